/** A hold point that waits for a signature, as a line of a list. */

import { nameOf } from "../../app/session";
import type { components } from "../../wire/schema";

export type HoldWaits = components["schemas"]["HoldWaits"];

export function holdPlace(one: HoldWaits): { key: string; word: string; second: string; href: string } {
  const here = one.who_may.filter((who) => who.here).map((who) => nameOf(who.person));
  const waits = one.nobody_here ? "Nobody here may sign it." : `waits for ${here.join(" or ")}`;
  const what = one.say ?? "the whole of it";
  return {
    key: `${one.task}/${one.step}`,
    word: `Hold point: ${one.title}`,
    second: one.i_may ? `${one.task}, ${what}` : `${one.task}, ${waits}`,
    href: `/hold/${one.task}/${one.step}`,
  };
}
