/** Bags by number: what is written on one, and which tasks ask for it. */

import { rows } from "../../app/mirror";
import type { RowKinds } from "../../wire/rows";

type Bag = NonNullable<RowKinds["build"]["bags"]>[number];

export function bagOf(id: string): Bag | undefined {
  return rows("build")
    .get("build")
    ?.bags?.find((one) => one.id === id);
}

/** "Bag 24 · donor: rack and ties": the label as it is written on the bag. */
export function bagWords(id: string): string {
  return `Bag ${bagOf(id)?.label ?? id}`;
}

/** Tasks that fetch it, or put into it what comes off the donor. */
export function tasksWith(id: string): RowKinds["task"][] {
  return [...rows("task").values()].filter(
    (task) => (task.plan.bags ?? []).includes(id) || task.plan.steps.some((step) => step.bag === id),
  );
}
