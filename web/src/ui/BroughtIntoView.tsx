/** What follows from a press is seen, wherever the page stands: the main button is fixed below, its answer may be above. */

import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";

/** Scrolls to its children when they come after the screen has opened; what was there before stays where it is. */
export function BroughtIntoView({ children }: { children: ComponentChildren }): JSX.Element {
  const here = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // On a wide screen the column scrolls, not the page.
    const column = here.current?.closest(".layout-main, .layout-detail");
    if (scrollY > 0 || (column && column.scrollTop > 0)) here.current?.scrollIntoView({ block: "center" });
  }, []);
  return <div ref={here}>{children}</div>;
}
