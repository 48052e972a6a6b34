/** As what this person would join a task that somebody has taken: a pair of hands, somebody who learns, or who only watches (R8). */

import type { RowKinds } from "../../wire/rows";

type Member = Pick<RowKinds["member"], "minor" | "skills">;
type TaskRow = Pick<RowKinds["task"], "plan" | "mates">;

export type JoinsAs = "hand" | "learner" | "watcher";

/** Null: not at all, for under-18s. The stricter of what the plan and the person's own level allow counts. */
export function joinsAs({ plan }: Pick<TaskRow, "plan">, { minor, skills }: Member): JoinsAs | null {
  const level = minor && [minor, plan.minors ?? "with_adult"];
  if (level?.includes("no")) return null;
  if (level?.includes("watch")) return "watcher";
  return !plan.lead_skill || (skills ?? []).includes(plan.lead_skill) ? "hand" : "learner";
}

/** The button: "Join Bram", "Join Bram and learn", "Watch Bram at it". */
export function joinWords(as: JoinsAs, holder: string): string {
  if (as === "watcher") return `Watch ${holder} at it`;
  return as === "learner" ? `Join ${holder} and learn` : `Join ${holder}`;
}

/** After a name, of somebody who joined: ", who learns". */
export function mateWords(task: TaskRow, member: Member & { id: string }): string {
  if (!task.mates?.find((mate) => mate.person === member.id)?.learner) return "";
  return joinsAs(task, member) === "watcher" ? " (watches)" : " (learns)";
}
