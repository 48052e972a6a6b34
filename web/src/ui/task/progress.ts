/** How far a task has come, as this person sees it: the service's rows with what is still on this phone laid over. */

import { rows } from "../../app/mirror";
import { pending } from "../../app/outbox";
import type { RowKinds } from "../../wire/rows";

export type TaskRow = RowKinds["task"];
export type StepPlan = TaskRow["plan"]["steps"][number];

export interface StepSeen {
  plan: StepPlan;
  number: number;
  state: "to_do" | "current" | "done" | "left_out";
  onPhone: boolean; // done here, not handed over yet
  by: string | null;
  at_ms: number | null;
  value: string | null;
  unit: string | null;
}

const BULK: readonly string[] = ["plain"];

/** The steps with their state; the first that is open is the current one. */
export function stepsOf(task: TaskRow): StepSeen[] {
  const here = new Map<string, { value: string | null; unit: string | null }>();
  for (const one of pending("task.tick", { task: task.id })) {
    for (const step of (one.envelope.body.steps as string[]) ?? [])
      here.set(step, { value: null, unit: null });
  }
  for (const one of pending("task.measure", { task: task.id })) {
    const { step, value, unit } = one.envelope.body as { step: string; value: string; unit: string };
    here.set(step, { value, unit });
  }
  for (const one of pending("task.confirm_side", { task: task.id })) {
    here.set(one.envelope.body.step as string, { value: null, unit: null });
  }
  let currentFound = false;
  return task.plan.steps.map((plan, index) => {
    const tick = task.ticks?.[plan.id];
    const mine = here.get(plan.id);
    let state: StepSeen["state"] = tick ? (tick.left_out ? "left_out" : "done") : mine ? "done" : "to_do";
    if (state === "to_do" && !currentFound) {
      state = "current";
      currentFound = true;
    }
    return {
      plan,
      number: index + 1,
      state,
      onPhone: !tick && mine !== undefined,
      by: tick?.by ?? null,
      at_ms: tick?.at_ms ?? null,
      value: tick?.value ?? mine?.value ?? null,
      unit: tick?.unit ?? mine?.unit ?? null,
    };
  });
}

/** Plain steps from the current one on, without a break: what *All done down to here* may cover (R9). */
export function bulkFrom(steps: StepSeen[]): StepSeen[] {
  const start = steps.findIndex((one) => one.state === "current");
  if (start < 0) return [];
  const run: StepSeen[] = [];
  for (const one of steps.slice(start)) {
    if (!BULK.includes(one.plan.kind ?? "plain") || one.state === "done") break;
    run.push(one);
  }
  return run;
}

/** Everybody on the task beside its holder. */
export function matesOf(task: TaskRow): string[] {
  return (task.mates ?? []).map((mate) => mate.person);
}

export function isOn(task: TaskRow, person: string | null | undefined): boolean {
  return Boolean(person) && (task.holder === person || matesOf(task).includes(person as string));
}

/** Is the bolt group as far as this step brings it? */
export function groupReached(step: StepPlan): boolean {
  const group = rows("group").get(step.group ?? "");
  if (!group) return false;
  const bolts = group.bolts;
  if (step.kind === "run_in") return bolts.every((bolt) => bolt.run_in || bolt.snug || bolt.final);
  if (step.kind === "snug") return bolts.every((bolt) => bolt.snug || bolt.final);
  return group.state === "final";
}
