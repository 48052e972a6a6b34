/** What is still on this phone, as a signal, and the one door through which kept commands leave a screen. */

import { computed, signal } from "@preact/signals";
import { newId } from "../local/ids";
import { letGo as forget, keep, outbox as stored, type Waiting } from "../local/store";
import { link } from "../sync/link";
import { head } from "./mirror";
import { build, typingFor, wake } from "./session";

export const outbox = signal<Waiting[]>([]);
export const waitingCount = computed(() => outbox.value.length);

export async function refreshOutbox(): Promise<void> {
  outbox.value = await stored();
}

export interface Options {
  seen?: boolean; // say what was on the screen
  for_person?: string;
  after?: string; // an earlier command of this phone that this one builds on
}

/** Make a command, store it, then hand it over. Returns its id as soon as it is durable on this phone. */
export async function dispatch(
  kind: string,
  body: Record<string, unknown>,
  options: Options = {},
): Promise<string> {
  const here = build.value;
  if (!here) throw new Error("no build is open");
  const id = newId();
  const forPerson = options.for_person ?? typingFor.value;
  const waiting: Waiting = {
    id,
    build: here.id,
    made_ms: Date.now(),
    state: "waiting",
    envelope: {
      id,
      kind,
      device_ms: Date.now() + link.value.offset_ms,
      body,
      ...(options.seen && head.value ? { seen: head.value.number } : {}),
      ...(forPerson ? { for_person: forPerson } : {}),
      ...(options.after ? { after: options.after } : {}),
    },
  };
  await keep(waiting);
  await refreshOutbox();
  wake();
  return id;
}

/** The person has looked at a refused command and lets it go (its evidence stays on the task). */
export async function letGo(id: string): Promise<void> {
  await forget(id);
  await refreshOutbox();
}

/** Commands of one kind still on this phone whose body matches all given fields. */
export function pending(kind: string, match: Record<string, unknown> = {}): Waiting[] {
  return outbox.value.filter(
    (one) =>
      one.state === "waiting" &&
      one.envelope.kind === kind &&
      Object.entries(match).every(([field, value]) => one.envelope.body[field] === value),
  );
}

/** Refused commands that touch one thing: shown with their sentence where the person pressed. */
export function refusedOn(match: Record<string, unknown>): Waiting[] {
  return outbox.value.filter(
    (one) =>
      one.state === "refused" &&
      Object.entries(match).every(([field, value]) => one.envelope.body[field] === value),
  );
}
