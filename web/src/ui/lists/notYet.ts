/** What waits, by what it waits for first: forty tags in a row are no answer on a phone. */

import { liftedHere } from "../../app/waits";
import type { Card } from "./atHand";

export interface ByReason {
  key: string;
  /** "T409 Shock absorbers in comes first" */
  words: string;
  cards: Card[];
  /** The same cards by what just they wait for, where that is not one thing for all. */
  within: ByReason[];
}

const WORDS: Record<string, string> = {
  task: "Another task comes first",
  lag: "Time must pass first",
  gate: "A gate comes first",
  part: "A part is missing",
  hazard_clash: "What goes on beside it could hurt somebody",
  tag_hangs: "A tag hangs on it",
  alone: "Nobody else is here",
};

interface Cause {
  code: string;
  about: string;
  words: string;
}

/** The first thing that it waits for, less what lies signed off on this phone. */
function causeOf(card: Card): Cause {
  const first = card.reason ?? card.waits.find((wait) => !liftedHere(wait));
  const params = first?.params ?? {};
  const about = String(params.about ?? "");
  const name = params.title ?? params.gate ?? params.part ?? params.why ?? "";
  const named = first?.code === "task" ? `${about} ${name}` : String(name);
  return { code: first?.code ?? "", about: about || named, words: named.trim() };
}

function grouped(
  cards: readonly Card[],
  keyOf: (cause: Cause) => string,
  wordsOf: (cause: Cause) => string,
): ByReason[] {
  const groups = new Map<string, ByReason>();
  for (const card of cards) {
    const cause = causeOf(card);
    const key = keyOf(cause);
    const group = groups.get(key) ?? { key, words: wordsOf(cause), cards: [], within: [] };
    group.cards.push(card);
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.cards.length - a.cards.length); // of the same length: as they came
}

/** Most tasks first; within a reason as the queue has them. */
export function byReason(cards: readonly Card[]): ByReason[] {
  return grouped(
    cards,
    ({ code }) => code,
    ({ code }) => WORDS[code] ?? "Something else comes first",
  ).map((reason) => {
    const within = grouped(
      reason.cards,
      ({ code, about }) => `${code} ${about}`,
      ({ words }) => words,
    );
    const one = within[0];
    if (within.length > 1) return { ...reason, within };
    return one?.words ? { ...reason, words: `${reason.words}: ${one.words}` } : reason;
  });
}
