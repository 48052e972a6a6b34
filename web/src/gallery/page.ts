import type { JSX } from "preact";

/** One page of the gallery: parts in their states, with made-up data of the demo build. */
export interface Page {
  key: string;
  title: string;
  Show: () => JSX.Element;
  /** Draws its own whole screen instead of standing inside the gallery's frame. */
  whole?: boolean;
}

/** A press in the gallery does nothing that lasts. */
export function nothing(): void {}
