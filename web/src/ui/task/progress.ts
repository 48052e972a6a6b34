/** How far a task has come, as this person sees it: the service's rows with what is still on this phone laid over. */

import { insideWindow } from "../../app/decimals";
import { rows } from "../../app/mirror";
import { pending } from "../../app/outbox";
import type { TaskRow } from "../../app/tasks";

export type { TaskRow } from "../../app/tasks";
export type StepPlan = TaskRow["plan"]["steps"][number];

export interface StepSeen {
  plan: StepPlan;
  number: number;
  state: "to_do" | "current" | "done" | "left_out";
  onPhone: boolean; // said here, not handed over yet
  by: string | null;
  at_ms: number | null;
  value: string | null; // as measured; of a step that is still open: outside its limits
  unit: string | null;
}

interface Said {
  done: boolean;
  value: string | null;
  unit: string | null;
  leftOut?: boolean;
}

const BULK: readonly string[] = ["plain"];

/** Does a measure, as typed in the unit of its step, make the step done? */
export function measureInside(plan: StepPlan | undefined, value: string): boolean {
  const { low, high } = plan?.measure ?? {};
  return insideWindow(value, low ?? value, high ?? value);
}

/** What was said here about the steps, the last word on each. */
function saidHere(task: TaskRow): Map<string, Said> {
  const said = new Map<string, Said>();
  const plain = (done: boolean): Said => ({ done, value: null, unit: null });
  for (const { envelope } of pending(null, { task: task.id })) {
    const body = envelope.body as {
      step: string;
      steps?: string[];
      value: string;
      unit: string;
      leave_out?: boolean;
    };
    if (envelope.kind === "task.tick") for (const step of body.steps ?? []) said.set(step, plain(true));
    if (envelope.kind === "task.untick") said.set(body.step, plain(false));
    if (envelope.kind === "task.confirm_side") said.set(body.step, plain(true));
    if (envelope.kind === "task.measure") {
      const plan = task.plan.steps.find((one) => one.id === body.step);
      said.set(body.step, { ...body, done: measureInside(plan, body.value) });
    }
    if (envelope.kind === "deviation.propose") {
      if (body.leave_out) said.set(body.step, { ...plain(true), leftOut: true });
      else if (measuredOutside(task, body.step, said.get(body.step))) said.set(body.step, plain(true));
    }
  }
  return said;
}

/** Said to be done differently, such a step is done as it was measured, and waits for a yes (R9). */
function measuredOutside(task: TaskRow, step: string, here: Said | undefined): boolean {
  if (here) return !here.done && here.value !== null;
  return !task.ticks?.[step] && task.measures?.[step]?.at(-1)?.inside === false;
}

/** The steps with their state; the first that is open is the current one. */
export function stepsOf(task: TaskRow): StepSeen[] {
  const here = saidHere(task);
  let currentFound = false;
  return task.plan.steps.map((plan, index) => {
    const mine = here.get(plan.id);
    const tick = mine ? undefined : task.ticks?.[plan.id];
    const outside = task.measures?.[plan.id]?.findLast((one) => !one.inside);
    const leftOut = tick?.left_out || mine?.leftOut;
    let state: StepSeen["state"] = leftOut ? "left_out" : tick || mine?.done ? "done" : "to_do";
    if (state === "to_do" && !currentFound) {
      state = "current";
      currentFound = true;
    }
    const from = mine ?? tick ?? outside;
    const figure = state === "done" && !from?.value ? (outside ?? from) : from; // done differently, as it was measured
    return {
      plan,
      number: index + 1,
      state,
      onPhone: mine !== undefined,
      by: tick?.by ?? null,
      at_ms: tick?.at_ms ?? null,
      value: figure?.value ?? null,
      unit: figure?.unit ?? null,
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

/** Is the bolt group as far as this step brings it, counting what was run in here? Readings: see `torque/seen.ts`. */
export function groupReached(step: StepPlan): boolean {
  const group = rows("group").get(step.group ?? "");
  if (!group) return false;
  if (step.kind !== "tighten" && pending("torque.run_in", { group: group.id, how: step.kind }).length > 0)
    return true;
  const bolts = group.bolts;
  if (step.kind === "run_in") return bolts.every((bolt) => bolt.run_in || bolt.snug || bolt.final);
  if (step.kind === "snug") return bolts.every((bolt) => bolt.snug || bolt.final);
  return group.state === "final";
}
