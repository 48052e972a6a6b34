/** Who is under the car, as this phone knows it: the service's rows with what was said here and not handed over yet. */

import { rows } from "./mirror";
import { pending, who } from "./outbox";

const SAYS_WHERE: readonly string[] = ["hazard.under", "hazard.out"];

/** By person, the last word of what waits here: "I'm under", "I'm out", "Bram is out, I looked". */
function saidHere(): Map<string, boolean> {
  const said = new Map<string, boolean>();
  for (const one of pending(null)) {
    const { kind, body } = one.envelope;
    if (!SAYS_WHERE.includes(kind)) continue;
    said.set(typeof body.person === "string" ? body.person : who(one), kind === "hazard.under");
  }
  return said;
}

export function isUnder(person: string | null | undefined): boolean {
  if (!person) return false;
  return saidHere().get(person) ?? rows("under").has(person);
}

export function peopleUnder(): string[] {
  const said = saidHere();
  return [...new Set([...rows("under").keys(), ...said.keys()])].filter((person) => said.get(person) ?? true);
}
