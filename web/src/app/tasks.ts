/**
 * A task as this phone knows it: the service's row with what was said here about it, and not handed over yet, laid over
 * in the order it was made. It shows whose hands the task would be in; whether it may be is the service's to say.
 */

import type { Waiting } from "../local/store";
import type { RowKinds } from "../wire/rows";
import { pending, who } from "./outbox";

export type TaskRow = RowKinds["task"];
type Said = Record<string, unknown>;

export interface TaskSeen {
  row: TaskRow;
  /** Taking, leaving and the like that wait on this phone, in order. */
  unsent: Waiting[];
  /** Signed off on this phone, not handed over yet: the work on it is over, the signature does not stand. */
  signed: boolean;
}

export function isOn(task: TaskRow, person: string | null | undefined): boolean {
  return Boolean(person) && (task.holder === person || matesOf(task).includes(person as string));
}

/** Everybody on the task beside its holder. */
export function matesOf(task: TaskRow): string[] {
  return (task.mates ?? []).map((mate) => mate.person);
}

const free: Partial<TaskRow> = {
  holder: null,
  taken_at_ms: null,
  mates: [],
  stuck: null,
  help_wanted: false,
};

const without = (task: TaskRow, person: string) =>
  (task.mates ?? []).filter((mate) => mate.person !== person);

function handedBack(how: "gave_back" | "went_home") {
  return (task: TaskRow, by: string, at_ms: number, body: Said): Partial<TaskRow> => {
    if (task.holder !== by) return { mates: without(task, by) };
    const left = { step: null, loose: [], reason: null, tag_on_car: false, ...body, note: null, photo: null };
    return { ...free, state: "open", handover: { by, at_ms, how, ...left } };
  };
}

type Follows = (task: TaskRow, by: string, at_ms: number, body: Said) => Partial<TaskRow>;

/** What each would change in the row; free words and photos are not in it, they have their own place on the screen. */
const FOLLOWS: Record<string, Follows> = {
  "task.take": (_, by, taken_at_ms) => ({ ...free, state: "taken", holder: by, taken_at_ms }),
  "task.take_over": (task, by) => ({ holder: by, stuck: null, mates: without(task, by) }),
  "task.join": (task, by, _at, { learner }) => ({
    mates: [...(task.mates ?? []), { person: by, learner: learner === true }],
  }),
  "task.leave": (task, by) => ({ mates: without(task, by) }),
  "task.want_help": (_task, _by, _at, { wanted }) => ({ help_wanted: wanted !== false }),
  "task.stuck": (_, by, at_ms, { reason }) => ({
    stuck: { by, at_ms, reason: String(reason), note: null, photo: null },
  }),
  "task.go_on": () => ({ stuck: null }),
  "task.give_back": handedBack("gave_back"),
  "task.go_home": handedBack("went_home"),
  "task.pass_on": (task, _by, taken_at_ms, { to_person }) => {
    const to = String(to_person);
    return { holder: to, taken_at_ms, stuck: null, mates: without(task, to) };
  },
  "task.sign_off": () => ({}),
};

/** `waiting`: commands about this task that wait here, in order. */
export function laidOver(task: TaskRow, waiting: readonly Waiting[]): TaskSeen {
  let row = task;
  let signed = false;
  const unsent = waiting.filter((one) => one.envelope.kind in FOLLOWS);
  for (const one of unsent) {
    const { kind, body, device_ms } = one.envelope;
    row = { ...row, ...FOLLOWS[kind]?.(row, who(one), device_ms, body) };
    signed = kind === "task.sign_off";
  }
  return { row, unsent, signed };
}

export function taskSeen(task: TaskRow): TaskSeen {
  return laidOver(task, pending(null, { task: task.id }));
}
