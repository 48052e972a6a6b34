/** States of a lift, in the crew's words. */

import type { components } from "../../wire/schema";

type LiftState = components["schemas"]["Lift"]["state"];

export const LIFT_WORDS: Record<string, string> = {
  drafted: "Not called",
  called: "Called",
  crewed: "Every place is taken",
  in_place: "In place",
  lifting: "Lifting",
  held: "HELD",
  set_down: "Set down",
  landed: "Landed",
  stood_down: "Stood down",
};

export function liftWord(state: LiftState): string {
  return LIFT_WORDS[state] ?? state.replaceAll("_", " ");
}
