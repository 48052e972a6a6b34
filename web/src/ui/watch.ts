/** What comes while nobody looks at the screen is also felt and heard: a new call, a check, a refusal. */

import { effect } from "@preact/signals";
import { loaded } from "../app/mirror";
import { outbox, refusals } from "../app/outbox";
import { build } from "../app/session";
import { alarm } from "./alarm";
import { callsForMe } from "./calls";

/** Says which keys were never seen before of the same thing; at the first look nothing is new. */
function news(): (about: string, keys: readonly string[]) => string[] {
  let last: string | undefined;
  let known = new Set<string>();
  return (about, keys) => {
    const fresh = last === about ? keys.filter((key) => !known.has(key)) : [];
    if (last !== about) known = new Set();
    last = about;
    for (const key of keys) known.add(key);
    return fresh;
  };
}

export function watchCalls(): void {
  const lifts = news();
  const checks = news();
  const kept = news();
  const refused = news();
  effect(() => {
    const here = build.value?.id;
    if (!here || !loaded.value) return;
    const calls = callsForMe();
    const keys = (kind: string) => calls.filter((one) => one.kind === kind).map((one) => one.key);
    if (lifts(here, keys("lift")).length > 0) alarm("lift_called");
    if (checks(here, [...keys("check"), ...keys("two")]).length > 0) alarm("check_waits");
  });
  effect(() => {
    const all = outbox.value;
    const ids = (state: string, kind?: string) =>
      all.filter((one) => one.state === state && (!kind || one.envelope.kind === kind)).map((one) => one.id);
    if (kept("", ids("waiting", "torque.read")).length > 0) alarm("reading_kept");
    if (
      refused(
        "",
        refusals.value.map(({ id }) => id),
      ).length > 0
    )
      alarm("refused");
  });
}
