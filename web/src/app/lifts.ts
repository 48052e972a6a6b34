/** A lift as this phone knows it: the service's row with what was said here and not handed over yet. */

import { row } from "./mirror";
import { pending } from "./outbox";

/** Said to be down, by the caller or in the report of one that went by voice: enough for its step (R22). */
export function isDown(id: string): boolean {
  const lift = row("lift", id);
  return lift?.state === "landed" || Boolean(lift?.set_down) || saidDown(id);
}

/** Said here, and not handed over yet. */
export function saidDown(lift: string): boolean {
  return ["lift.set_down", "lift.report_by_voice"].some((kind) => pending(kind, { lift }).length > 0);
}

/** Signed as landed, by one more who was there: the sign-off of its task waits for that. */
export function isLanded(id: string): boolean {
  return row("lift", id)?.state === "landed" || pending("lift.sign_landed", { lift: id }).length > 0;
}
