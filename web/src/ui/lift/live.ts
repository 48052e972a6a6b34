/** Which lift concerns this phone now: read off the mirrored rows. */

import { rows } from "../../app/mirror";
import { me, serverNow } from "../../app/session";
import type { RowKinds } from "../../wire/rows";

export type LiftRow = RowKinds["lift"];
export type Pair = NonNullable<LiftRow["held"]>;

const UP: readonly string[] = ["lifting", "held"];
const BEFORE: readonly string[] = ["called", "crewed", "in_place"];
const AFTER_MS = 600_000; // a lift that was set down and never signed does not carry STOP for ever
const STOPPED_MS = 120_000; // how long a STOP before lifting is news

/** Has this person a place in it, or had one when it went up? */
export function sameLift(lift: LiftRow, person: string | null | undefined): boolean {
  return !!person && [...Object.values(lift.places ?? {}), ...(lift.there ?? [])].includes(person);
}

/** A load hangs: nothing else is worth reading. */
export function isUp(lift: LiftRow): boolean {
  return UP.includes(lift.state) && !lift.set_down;
}

/** Being called by roll, up, held, or set down a moment ago. One reported by voice is over when it is heard of. */
export function isLive(lift: LiftRow | undefined): boolean {
  if (!lift) return false;
  if (!UP.includes(lift.state))
    return lift.state === "in_place" || (lift.state === "crewed" && rollBegun(lift));
  if (!lift.set_down) return true;
  return !lift.by_voice && serverNow() - lift.set_down.at_ms < AFTER_MS;
}

function rollBegun(lift: LiftRow): boolean {
  return Object.keys(lift.roll ?? {}).length > 0 || typeof lift.floor_ms === "number";
}

/** The live lift of whoever is at this phone; before lifting also one that was stopped a moment ago. */
export function myLift(): LiftRow | undefined {
  const person = me.value?.person;
  const mine = [...rows("lift").values()].filter((lift) => sameLift(lift, person));
  return mine.find((lift) => isLive(lift)) ?? mine.find((lift) => stopOf(lift));
}

/** The STOP that stands: it holds the load, or it emptied the roll call a moment ago. */
export function stopOf(lift: LiftRow | undefined): Pair | undefined {
  if (lift?.state === "held") return lift.held ?? undefined;
  const stopped = lift?.stopped;
  if (!lift || !stopped || !BEFORE.includes(lift.state)) return undefined;
  return serverNow() - stopped.at_ms < STOPPED_MS ? stopped : undefined;
}

/** Who calls: the caller's place, or without one of its own the first lifter's, else the first guide's. */
export function callerOf(lift: LiftRow): string | undefined {
  const first = lift.plan.supports.find((one) => one.kind === "lifter")?.id ?? "guide-1";
  return lift.places?.[lift.plan.caller ? "caller" : first];
}
