import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";

/** Keys that open inside a long screen are brought whole above its bar, each time for another bolt. */
export function InReach(props: { bolt: number | undefined; children: ComponentChildren }): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const keys = box.current?.querySelector(".keys")?.getBoundingClientRect();
    const bar = document.querySelector(".work-bar")?.getBoundingClientRect();
    const hidden = keys ? keys.bottom + 12 - (bar?.top ?? innerHeight) : 0;
    if (hidden <= 0) return;
    scrollBy(0, hidden);
    box.current?.closest(".layout-detail")?.scrollBy(0, hidden); // what scrolls on a wide screen
  }, [props.bolt]);
  return <div ref={box}>{props.children}</div>;
}
