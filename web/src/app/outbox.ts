/** What is still on this phone, as a signal, and the one door through which kept commands leave a screen. */

import { computed, effect, signal } from "@preact/signals";
import { newId, seenId } from "../local/ids";
import { letGo as forget, keep, outbox as stored, type Waiting } from "../local/store";
import { link } from "../sync/link";
import { head } from "./mirror";
import type { NewPhoto } from "./photoMaking";
import { keepHere, photosHere } from "./photos";
import { build, me, typingFor, wake } from "./session";
import { askToKeep } from "./storage";

export const outbox = signal<Waiting[]>([]);
/** What this phone could not store, and so will not hand over. */
export const notKept = signal<Waiting | null>(null);

/** Made by whoever is at this phone now: only that goes (see `sync/exchange.ts`). */
export function mine({ by }: Pick<Waiting, "by">): boolean {
  return by === undefined || by === me.value?.person;
}

/**
 * Refused, and not looked at yet: for whoever made it, and for nobody else who comes to the same tablet. What was typed is
 * theirs and the lead's, and a refusal can say what nobody else may know (R21).
 */
export const refusals = computed(() => outbox.value.filter((one) => one.state === "refused" && mine(one)));
/** What somebody else made at this phone: it waits until they are at it again. Only how many there are is shown. */
export const othersWait = computed(() =>
  [...outbox.value, ...photosHere.value].filter((one) => one.state === "waiting" && !mine(one)),
);
export const waitingCount = computed(
  () => [...outbox.value, ...photosHere.value].filter((one) => one.state === "waiting" || mine(one)).length,
);

const UNANSWERED_TIMES = 3;
const UNANSWERED_MS = 120_000;

/**
 * Tried often enough, for long enough, that the person should know: it was handed over and nobody said yes or no.
 * Without a connection only what the service itself said counts; the rest explains itself. What a service of another
 * version does not know is told at once: no further try will help.
 */
export function unanswered({ state, in_vain }: Pick<Waiting, "state" | "in_vain">): boolean {
  if (state !== "waiting" || !in_vain) return false;
  if (in_vain.problem?.code === "other_version") return true;
  if (in_vain.times < UNANSWERED_TIMES) return false;
  return Date.now() - in_vain.since_ms >= UNANSWERED_MS && (link.value.up || !!in_vain.problem);
}
export const unansweredCount = computed(
  () => [...outbox.value, ...photosHere.value].filter((one) => mine(one) && unanswered(one)).length,
);

/** An exchange that found nothing here, and left nothing, draws no screen anew. */
export function showOutbox(now: Waiting[]): void {
  if (now.length > 0 || outbox.peek().length > 0) outbox.value = now;
}

export async function refreshOutbox(): Promise<void> {
  showOutbox(await stored());
  for (const { id } of outbox.value) seenId(id);
}

/** What this page sent, by command: shown where the record has it already but was not yet asked what is in it. */
const sentHere = new Map<string, Record<string, unknown>>();

effect(() => {
  for (const { id, envelope } of outbox.value) sentHere.set(id, envelope.body);
});

/** A field of the command that a row came of, where this phone made it. */
export function madeHere(row: string | undefined, field: string): string | undefined {
  const body = row === undefined ? undefined : sentHere.get(row.split(".")[0] ?? row); // a row is named after its command
  return typeof body?.[field] === "string" ? body[field] : undefined;
}

export interface Options {
  seen?: boolean; // say what was on the screen
  for_person?: string;
  after?: string; // an earlier command of this phone that this one builds on
  photo?: NewPhoto | null; // kept with it; the bytes follow apart
  mends?: Waiting | undefined; // a refused one whose place this takes; its photo goes along where there is no other
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
  const photo = options.photo?.sha256 ?? options.mends?.envelope.body.photo;
  // What is mended stays the act of whom it was: typing for somebody began or ended since does not change that.
  const actsFor = options.mends ? options.mends.envelope.for_person : typingFor.value;
  const forPerson = options.for_person ?? actsFor;
  const waiting: Waiting = {
    id,
    build: here.id,
    ...(me.value?.person ? { by: me.value.person } : {}),
    made_ms: Date.now(),
    state: "waiting",
    envelope: {
      id,
      kind,
      device_ms: Date.now() + link.value.offset_ms,
      body: photo ? { ...body, photo } : body,
      ...(options.seen && head.value ? { seen: head.value.number } : {}),
      ...(forPerson ? { for_person: forPerson } : {}),
      ...(options.after ? { after: options.after } : {}),
    },
  };
  try {
    if (options.photo) await keepHere(options.photo);
    await keep(waiting);
  } catch (why) {
    notKept.value = waiting; // said on every screen, with what was typed, until the person has it
    throw why;
  }
  if (options.mends) await forget(options.mends.id);
  await refreshOutbox();
  void askToKeep();
  wake();
  return id;
}

/** The person has looked at a refused command and lets it go (its evidence stays on the task). */
export async function letGo(id: string): Promise<void> {
  await forget(id);
  await refreshOutbox();
}

/** Whose act it is: of whom it was typed for, else of whoever was at this phone. */
export function who({ by, envelope }: Waiting): string {
  return envelope.for_person ?? by ?? me.value?.person ?? "";
}

/** About the open build, and about what `match` names. */
function about({ build: of, envelope: { body } }: Waiting, match: Record<string, unknown>): boolean {
  return of === build.value?.id && Object.entries(match).every(([field, value]) => body[field] === value);
}

/** Commands of one kind (null: of any) still on this phone whose body matches all given fields, in the order made. */
export function pending(kind: string | null, match: Record<string, unknown> = {}): Waiting[] {
  return outbox.value.filter(
    (one) => one.state === "waiting" && (kind === null || one.envelope.kind === kind) && about(one, match),
  );
}

/** Refused commands that touch one thing: shown with their sentence where the person pressed. */
export function refusedOn(match: Record<string, unknown>): Waiting[] {
  return refusals.value.filter((one) => about(one, match));
}
