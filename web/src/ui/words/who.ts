/** A person and what they do: "Aled has", "you have". */

import { nameOf } from "../../app/session";

const YOU = { has: "have", is: "are", was: "were" };

export function who(person: string | null | undefined, does: keyof typeof YOU): string {
  const name = nameOf(person);
  return `${name} ${name === "you" ? YOU[does] : does}`;
}

/** At the head of a sentence. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
