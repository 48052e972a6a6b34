/** A prepared card drawn as the tag it is everywhere. */

import type { ComponentChildren, JSX } from "preact";
import { pending } from "../app/outbox";
import { nameOf } from "../app/session";
import type { components } from "../wire/schema";
import { Tag } from "./parts";
import { flagsOf } from "./words/flags";
import { filled } from "./words/reason";

type Card = components["schemas"]["Card"];

/** "Go on: pass 1, bolt 3 of 6" */
export function nextWords(card: Card): string {
  const next = card.next_step;
  if (!next) return "Sign it off";
  if (next.bolt) return `Go on: pass ${next.pass_no}, bolt ${next.bolt} of ${next.bolts}`;
  return `Go on: step ${next.number} of ${next.of}`;
}

export function CardTag({
  card,
  lit,
  action,
}: {
  card: Card;
  lit?: boolean;
  action?: ComponentChildren;
}): JSX.Element {
  const asked = pending("task.take", { task: card.task }).length > 0;
  const reason = card.reason ?? card.waits[0];
  const words = reason
    ? filled(reason.says, reason.params ?? {})
    : card.next_step
      ? card.next_step.say
      : undefined;
  const holder = card.holder && card.state === "taken" ? `taken by ${nameOf(card.holder)}` : undefined;
  return (
    <Tag
      number={card.task}
      state={card.state}
      stateWord={holder}
      title={card.title}
      reason={words}
      flags={flagsOf(card)}
      mostFlags={3}
      lit={lit ?? false}
      stub={asked ? "Asked for, on this phone only" : undefined}
      signedBy={card.signed_by.map((person) => nameOf(person))}
      href={`/tasks/${card.task}`}
      action={action}
    />
  );
}
