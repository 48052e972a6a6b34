/** A member in words. */

import { rows } from "../../app/mirror";
import { isDeputy } from "../../app/session";
import type { RowKinds } from "../../wire/rows";

type Member = RowKinds["member"];

const ROLE: Record<Member["role"], string> = {
  lead: "lead",
  builder: "builder",
  helper: "helper",
  viewer: "viewer",
};
const MINOR: Record<string, string> = {
  no: "under 18, no work",
  watch: "under 18, watches only",
  with_adult: "under 18, works with an adult",
};

export function roleWords(member: Member): string {
  const parts: string[] = [ROLE[member.role]];
  if (member.minor) parts.push(MINOR[member.minor] ?? "under 18");
  if (member.may_countersign) parts.push("may countersign");
  if (isDeputy(member)) parts.push("deputy today");
  return parts.join(", ");
}

/** Skills by the names the plan gives them. */
export function skillWords(member: Member): string {
  const named = new Map((rows("build").get("build")?.skills ?? []).map((one) => [one.id, one.say]));
  return (member.skills ?? []).map((id) => named.get(id) ?? id.replaceAll("_", " ")).join(", ");
}
