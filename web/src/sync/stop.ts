/**
 * STOP (R19). Ahead of everything that waits, under one id until it is answered, never asked twice.
 * It is also kept in the outbox, so that a page that is killed still hands it over.
 */

import { newId } from "../local/ids";
import { keep, letGo } from "../local/store";
import { call, makeWay, Refusal } from "../wire/call";
import type { Outcome } from "../wire/core";
import { heard, link, silent } from "./link";

const AGAIN_MS = 1_000;

export interface StopSent {
  id: string;
  answered: Promise<void>;
}

/** Send STOP now; `onTry(sent)` hears after each try whether the service has it. */
export function sendStop(build: string, lift: string, onTry: (sent: boolean) => void): StopSent {
  const id = newId();
  const device_ms = Date.now() + link.value.offset_ms;
  const envelope = { id, kind: "lift.stop", device_ms, body: { lift } };
  void keep({ id, build, envelope, made_ms: Date.now(), state: "waiting" });
  return goOn(build, lift, id, device_ms, onTry);
}

/** Go on with a STOP that a page which is gone had begun, under its own id. */
export function goOn(
  build: string,
  lift: string,
  id: string,
  device_ms: number,
  onTry: (sent: boolean) => void,
): StopSent {
  async function untilAnswered(): Promise<void> {
    for (;;) {
      makeWay();
      try {
        await call<Outcome>(
          "POST",
          `/api/builds/${build}/lifts/${lift}/stop`,
          { id, device_ms },
          { timeoutMs: 3_000, ahead: true },
        );
        break;
      } catch (problem) {
        // The lift is over, or not up: there is nothing to stop. Any other no (not this phone, no such place, broken down)
        // has stopped nothing, and the person must go on shouting.
        if (problem instanceof Refusal && problem.problem.status === 409) break;
        silent();
        onTry(false);
        await new Promise((done) => setTimeout(done, AGAIN_MS));
      }
    }
    heard();
    onTry(true);
    await letGo(id);
  }
  return { id, answered: untilAnswered() };
}
