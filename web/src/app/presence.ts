/** Who is here today, as the service judges it (`rules/presence.py`): a sign-in is forgotten after a long day. */

import type { RowKinds } from "../wire/rows";
import { rows } from "./mirror";
import { serverNow } from "./session";

type Member = Pick<RowKinds["member"], "in_since_ms" | "left">;

const DAY_IN_MS = 16 * 3_600_000;

/** Since when, by the service's clock; null: not here. */
export function inSince(member: Member | undefined, now: number = serverNow()): number | null {
  const since = member?.in_since_ms;
  return member && !member.left && typeof since === "number" && now - since < DAY_IN_MS ? since : null;
}

export function isIn(member: Member | undefined, now?: number): boolean {
  return inSince(member, now) !== null;
}

export function membersIn(): RowKinds["member"][] {
  return [...rows("member").values()].filter((one) => isIn(one));
}
