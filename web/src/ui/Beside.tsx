/** On a wide screen the list stays at the left while something is opened at the right: the one it was opened from. */

import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useLayoutEffect } from "preact/hooks";
import { lazyScreen } from "./lazyScreen";
import QueueList from "./lists/QueueList";

const LISTS = {
  queue: { word: "Queue", href: "/", Shown: QueueList },
  plan: { word: "Plan", href: "/plan", Shown: lazyScreen(() => import("./lists/PlanList")) },
  "loose-ends": {
    word: "Loose ends",
    href: "/loose-ends",
    Shown: lazyScreen(() => import("./lists/LooseEndsList")),
  },
} as const;
type List = keyof typeof LISTS;

const query = matchMedia("(min-width: 62.5em)");
export const wide = signal(query.matches);
query.addEventListener("change", () => {
  wide.value = query.matches;
});

/** Which list was looked at last: what was opened closes to it. */
const lastList = signal<List | null>(null);
/** How far it was scrolled beside what was opened: the next thing opened from it leaves it where it is. */
let scrolled = 0;

function isList(place: string): place is List {
  return Object.hasOwn(LISTS, place);
}

/** This place is shown for itself: if it is a list, things are opened from it. */
export function lookedAt(place: string): void {
  if (!isList(place)) return;
  lastList.value = place;
  scrolled = 0;
}

/** The list beside a thing of this place: the last one, or where the thing belongs when it was opened by its address. */
export function listBeside(place: string): List {
  return lastList.value ?? (isList(place) ? place : "queue");
}

export function closesTo(place: string): string {
  return LISTS[listBeside(place)].href;
}

export function Beside({ place }: { place: string }): JSX.Element {
  const { word, Shown } = LISTS[listBeside(place)];
  useLayoutEffect(() => {
    const column = document.getElementById("main");
    if (!column) return undefined;
    const wanted = scrolled;
    const keep = () => {
      scrolled = column.scrollTop;
    };
    let frames = 0;
    let restored = false;
    let next = 0;
    // The list may be drawn a few frames later: until then there is nothing to scroll, and nothing to keep.
    const restore = () => {
      column.scrollTop = wanted;
      frames += 1;
      if (column.scrollTop < wanted - 1 && frames < 60) next = requestAnimationFrame(restore);
      else {
        restored = true;
        column.addEventListener("scroll", keep);
      }
    };
    restore();
    return () => {
      cancelAnimationFrame(next);
      if (restored) keep(); // a press may come before the frame that tells of the last scroll
      column.removeEventListener("scroll", keep);
    };
  }, []);
  return (
    <>
      <h2 class="t-strong">{word}</h2>
      <Shown />
    </>
  );
}
