/** The main button is fixed below and its screen may be scrolled: what a press of one's own brings is seen from its top. */

import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { toTop } from "./go";

const SOON_MS = 2000;

/** To the top when `shown` changes just after a press in the work bar. What others do while one reads moves nothing. */
export function useTopAfterPress(shown: string): void {
  const pressed_ms = useRef(Number.NEGATIVE_INFINITY);
  useEffect(() => {
    const note = ({ target }: MouseEvent) => {
      if (target instanceof Element && target.closest(".work-bar")) pressed_ms.current = performance.now();
    };
    addEventListener("click", note, true);
    return () => removeEventListener("click", note, true);
  }, []);
  useLayoutEffect(() => {
    if (performance.now() - pressed_ms.current < SOON_MS) toTop();
    pressed_ms.current = Number.NEGATIVE_INFINITY; // one press brings one thing
  }, [shown]);
}
