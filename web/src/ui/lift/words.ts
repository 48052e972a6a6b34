/** A lift in words: where it stands, who, what each bears. */

import { nameOf } from "../../app/session";
import { moment } from "../words/times";
import type { LiftView } from "./Drawing";

/** Names in alphabetical order: no other order that could say why (R21). */
export function namesOf(people: readonly string[]): string {
  return people
    .map((one) => nameOf(one))
    .sort((a, b) => a.localeCompare(b))
    .join(", ");
}

/** "Front left: 16 kg, at worst 17 kg" */
export function shareWords(place: { nominal_kg: string | null; worst_kg: string | null }): string | null {
  if (place.nominal_kg === null) return null;
  const kg = (mass: string | null) => `${mass ?? "?"}\u00a0kg`; // a figure and its unit stay on one line
  return `${kg(place.nominal_kg)}, at worst ${kg(place.worst_kg)}`;
}

export function stateWords(view: LiftView): string {
  const at = view.when_ms ? moment(view.when_ms) : "today";
  switch (view.state) {
    case "drafted":
      return "Not called yet";
    case "called":
      return `Called for ${at}`;
    case "crewed":
      return `Every place is taken. ${at}`;
    case "in_place":
      return "Everybody is in place";
    case "lifting":
      return view.set_down ? "Set down" : "Lifting";
    case "held":
      return view.set_down ? "Set down" : view.lowering ? "Lowering" : "Held";
    case "landed":
      return "Landed";
    case "stood_down":
      return "Stood down";
  }
}
