/** On a wide screen the list stays at the left while something is opened at the right: the one it was opened from. */

import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { lazyScreen } from "./lazyScreen";

const QueueList = lazyScreen(() => import("./lists/QueueList"));
const PlanList = lazyScreen(() => import("./lists/PlanList"));

const query = matchMedia("(min-width: 62.5em)");
export const wide = signal(query.matches);
query.addEventListener("change", () => {
  wide.value = query.matches;
});

/** Which list was looked at last: an opened task closes to it. */
export const lastList = signal<"queue" | "plan">("queue");

export function Beside(): JSX.Element {
  const plan = lastList.value === "plan";
  return (
    <>
      <h2 class="t-strong">{plan ? "Plan" : "Queue"}</h2>
      {plan ? <PlanList /> : <QueueList />}
    </>
  );
}
