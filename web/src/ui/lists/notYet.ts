/** What waits, by what it waits for in the end: forty tags in a row are no answer on a phone. */

import { liftedHere } from "../../app/waits";
import type { Card } from "./atHand";

export interface ByReason {
  key: string;
  /** "T403 Front uprights comes first" */
  words: string;
  cards: Card[];
}

interface Cause {
  code: string;
  about: string;
  name: string;
}

const WORDS: Record<string, string> = {
  lag: "Time must pass first",
  gate: "A gate comes first",
  part: "A part is missing",
  hazard_clash: "What goes on beside it could hurt somebody",
  tag_hangs: "A tag hangs on it",
  alone: "Nobody else is here",
};

/** The first thing that it waits for, less what lies signed off on this phone. */
function causeOf(card: Card): Cause {
  const first = card.reason ?? card.waits.find((wait) => !liftedHere(wait));
  const params = first?.params ?? {};
  const name = String(params.title ?? params.gate ?? params.part ?? params.why ?? "");
  return { code: first?.code ?? "", about: String(params.about ?? name), name };
}

/** What waits for a task that waits itself waits for what that one waits for: the end of the chain can be done now. */
function causeInTheEnd(card: Card, waiting: ReadonlyMap<string, Card>): Cause {
  let cause = causeOf(card);
  const passed = new Set([card.task]);
  for (;;) {
    const before = cause.code === "task" ? waiting.get(cause.about) : undefined;
    if (!before || passed.has(before.task)) return cause;
    passed.add(before.task);
    cause = causeOf(before);
  }
}

function wordsOf({ code, about, name }: Cause): string {
  if (code === "task") return `${about}${name ? ` ${name}` : ""} comes first`;
  const words = WORDS[code] ?? "Something else comes first";
  return name ? `${words}: ${name}` : words;
}

/** What holds up most first; within it as the queue has them. */
export function byReason(cards: readonly Card[]): ByReason[] {
  const waiting = new Map(cards.map((card) => [card.task, card]));
  const groups = new Map<string, ByReason>();
  for (const card of cards) {
    const cause = causeInTheEnd(card, waiting);
    const key = `${cause.code} ${cause.about}`;
    const group = groups.get(key) ?? { key, words: wordsOf(cause), cards: [] };
    group.cards.push(card);
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.cards.length - a.cards.length);
}
