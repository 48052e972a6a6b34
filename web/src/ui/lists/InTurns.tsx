/** A long list, a few at a time: what fills a phone at once, the rest in the frames after it. A press between them is heard. */

import type { JSX } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";

const FIRST = 3;
const AT_A_TIME = 4;
/** Once a page has drawn a list whole it is whole from then on: whoever comes Back finds the place they left. */
const drawn = new Set<string>();

export function InTurns<T>(props: {
  /** Which list, among those of the app. */
  name: string;
  of: readonly T[];
  each: (one: T) => JSX.Element;
}): JSX.Element {
  const { name, of } = props;
  const [count, setCount] = useState(() => (drawn.has(name) ? Number.POSITIVE_INFINITY : FIRST));
  // The same elements from one turn to the next: only what is new is drawn.
  const made = useMemo(() => new Map<T, JSX.Element>(), [of]);
  useEffect(() => {
    if (count >= of.length) {
      drawn.add(name);
      return undefined;
    }
    const next = setTimeout(() => setCount(count + AT_A_TIME));
    return () => clearTimeout(next);
  }, [count, of.length]);
  return (
    <>
      {of.slice(0, count).map((one) => {
        const element = made.get(one) ?? props.each(one);
        made.set(one, element);
        return element;
      })}
    </>
  );
}
