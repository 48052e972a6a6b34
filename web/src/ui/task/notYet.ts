/** Why a task can't be taken just now, said on the button itself (R5, R8). Unknown is no reason: the service judges. */

import { liftedHere } from "../../app/waits";
import type { components } from "../../wire/schema";
import { filled } from "../words/reason";

type TaskView = components["schemas"]["TaskView"];

const NOT_FOR_ME: Record<string, string> = {
  minor_no: "not for under-18s",
  minor_watches: "under-18s watch this one",
  minor_needs_adult: "join an adult who has taken it",
  needs_skill: "it needs the {skill} skill",
};

/** `mine`: the view was prepared for whoever acts, not for somebody who types for them. */
export function notTakenYet(
  view: { waits: TaskView["waits"]; card: Pick<TaskView["card"], "not_for_me"> } | null | undefined,
  mine: boolean,
): string | undefined {
  const never = mine ? view?.card.not_for_me : null;
  if (never) return filled(NOT_FOR_ME[never.code] ?? never.says.replace(/\.$/, ""), never.params ?? {});
  const waits = (view?.waits ?? []).filter((wait) => !liftedHere(wait));
  const first = waits[0];
  if (!first) return undefined;
  const says = filled(first.says, first.params ?? {}).replace(/\.$/, "");
  return waits.length === 1 ? says : `${says}, and ${waits.length - 1} more`;
}
