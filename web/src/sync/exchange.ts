/**
 * One exchange: hand over what waits, in order, and fetch what changed.
 *
 * 1. Only one exchange at a time over all tabs (Web Locks; a promise chain where the browser lacks them).
 * 2. Nothing is taken out of the outbox before the service has answered for it, in the transaction that takes in
 *    the rows. A lost answer means sending the same ids again; the service answers as the first time (R3).
 * 3. What the service could not judge, because it broke down over it, stays too and is handed over again; how often is
 *    kept with it. Where the whole exchange fails over what it carries, each goes alone: one holds up no other.
 * 4. What somebody else made at this phone waits until they are at it again: it would be written down as another's.
 * 5. A refusal is final: it stays on this phone, with what was typed, until the person has looked at it.
 */

import { signal } from "@preact/signals";
import {
  cursorOf,
  fact,
  forgetOldKept,
  knewOf,
  notJudged,
  offerAgain,
  outbox,
  takeIn,
  type Waiting,
} from "../local/store";
import { call, NoConnection, Refusal } from "../wire/call";
import type { Head, Problem, SyncAnswer } from "../wire/core";
import { hearClock } from "./clock";
import { link, silent } from "./link";

/** As many as the service takes in one exchange. */
const AT_ONCE = 200;
/** Counts up whenever something was handed over and not judged. */
export const triedInVain = signal(0);
type Listener = (build: string, answer: SyncAnswer, since: Head | null) => void | Promise<void>;
const listeners = new Set<Listener>();
let chain: Promise<unknown> = Promise.resolve();

/** Be told of every answer after it is stored, and of the head it was asked from. */
export function onAnswer(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

async function alone<T>(work: () => Promise<T>): Promise<T> {
  if (navigator.locks) return navigator.locks.request("yokemate-exchange", work);
  const mine = chain.then(work, work);
  chain = mine.catch(() => undefined);
  return mine;
}

/** The service does not know this phone, this person or their place in the build, or not any more. */
const PUT_OUT: readonly string[] = [
  "unknown_device",
  "shut_out",
  "signed_out",
  "no_such_build",
  "not_a_member",
  "guest_over",
];

/**
 * Exchange until nothing waits but what was tried. Answers false when nothing could be fetched; throws `Refusal` when
 * this phone is put out.
 */
export async function exchange(build: string): Promise<boolean> {
  return alone(() => allOf(build));
}

async function allOf(build: string): Promise<boolean> {
  const tried = new Set<string>();
  let atOnce = AT_ONCE;
  for (;;) {
    const wasUp = link.value.up;
    const waiting = (await mine(build)).filter((one) => !tried.has(one.id)).slice(0, atOnce);
    const ids = waiting.map((one) => one.id);
    try {
      const answer = await send(build, waiting);
      for (const id of ids) tried.add(id);
      if (answer.forked) tried.clear();
      else if (waiting.length < atOnce) return true;
    } catch (why) {
      if (why instanceof NoConnection) {
        if (wasUp && ids.length > 0) await leftUnjudged(ids);
        silent();
        return false;
      }
      if (!(why instanceof Refusal) || PUT_OUT.includes(why.problem.code)) throw why;
      if (ids.length === 0) {
        silent(); // it takes nothing at all: as good as no connection
        return false;
      }
      if (ids.length === 1) {
        await leftUnjudged(ids, why.problem);
        tried.add(ids[0] ?? "");
      }
      atOnce = 1;
    }
  }
}

async function leftUnjudged(ids: readonly string[], problem?: Problem): Promise<void> {
  await notJudged(ids, problem);
  triedInVain.value += 1;
}

/** What waits here of whoever is at this phone. */
async function mine(build: string): Promise<Waiting[]> {
  const me = await fact<{ person: string | null } | null>("me");
  const waiting = (await outbox(build)).filter(
    (one) => one.state === "waiting" && (one.by === undefined || one.by === me?.person),
  );
  const stops = (one: Waiting) => one.envelope.kind === "lift.stop";
  return [...waiting.filter(stops), ...waiting.filter((one) => !stops(one))]; // STOP overtakes all that waits (R19)
}

async function send(build: string, waiting: Waiting[]): Promise<SyncAnswer> {
  const cursor = (await cursorOf(build)) ?? null;
  const commands = waiting.map((one) => one.envelope);
  // A phone that was put out and let in again has no rows and no cursor; what it knew still tells a service put back.
  const knew = cursor ? undefined : await knewOf(build);
  const asked_ms = Date.now();
  const { body } = await call<SyncAnswer>("POST", `/api/builds/${build}/sync`, {
    cursor,
    ...(knew ? { knew } : {}),
    commands,
  });
  await hearClock(body.now_ms, asked_ms);
  const answered = body.outcomes.map((outcome) =>
    outcome.problem ? { id: outcome.id, problem: outcome.problem } : { id: outcome.id },
  );
  // Before the new place in the record is kept: a page killed between the two is told once more that it forked.
  if (body.forked) await offerAgain(build);
  const { rows, reset, head, forked } = body;
  await takeIn(build, { rows, reset, head, forked, answered });
  for (const listener of listeners) await listener(build, body, cursor);
  return body;
}

export { forgetOldKept, Refusal };
