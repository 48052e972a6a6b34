/**
 * One exchange: hand over what waits, in order, and fetch what changed.
 *
 * 1. Only one exchange at a time over all tabs (Web Locks; a promise chain where the browser lacks them).
 * 2. Nothing is taken out of the outbox before the service has answered for it, in the transaction that takes in
 *    the rows. A lost answer means sending the same ids again; the service answers as the first time (R3).
 * 3. A refusal is final: it stays on this phone, with what was typed, until the person has looked at it.
 */

import { cursorOf, forgetOldKept, offerAgain, outbox, takeIn, type Waiting } from "../local/store";
import { call, NoConnection, Refusal } from "../wire/call";
import type { SyncAnswer } from "../wire/core";
import { heard, silent } from "./link";

const AT_ONCE = 50;
type Listener = (build: string, answer: SyncAnswer) => void | Promise<void>;
const listeners = new Set<Listener>();
let chain: Promise<unknown> = Promise.resolve();

/** Be told of every answer after it is stored. */
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

/** Exchange until nothing waits. Answers false when there is no connection; throws `Refusal` when shut out. */
export async function exchange(build: string): Promise<boolean> {
  return alone(async () => {
    try {
      for (;;) {
        const waiting = (await outbox(build)).filter((one) => one.state === "waiting").slice(0, AT_ONCE);
        const answer = await send(build, waiting);
        if (waiting.length < AT_ONCE && !answer.forked) return true;
      }
    } catch (problem) {
      if (!(problem instanceof NoConnection)) throw problem;
      silent();
      return false;
    }
  });
}

async function send(build: string, waiting: Waiting[]): Promise<SyncAnswer> {
  const cursor = (await cursorOf(build)) ?? null;
  const commands = waiting.map((one) => one.envelope);
  const { body } = await call<SyncAnswer>("POST", `/api/builds/${build}/sync`, { cursor, commands });
  heard();
  const answered = body.outcomes.map((outcome) =>
    outcome.problem ? { id: outcome.id, problem: outcome.problem } : { id: outcome.id },
  );
  await takeIn(build, { rows: body.rows, reset: body.reset, head: body.head, answered });
  if (body.forked) await offerAgain(build);
  for (const listener of listeners) await listener(build, body);
  return body;
}

export { forgetOldKept, Refusal };
