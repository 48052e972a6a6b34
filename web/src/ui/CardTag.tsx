/** A prepared card drawn as the tag it is everywhere. */

import type { ComponentChildren, JSX } from "preact";
import { rows } from "../app/mirror";
import { actor, nameOf } from "../app/session";
import { taskSeen } from "../app/tasks";
import { liftedHere, readyOnceHandedOver } from "../app/waits";
import type { components } from "../wire/schema";
import { ONCE_HANDED_OVER, Tag } from "./parts";
import { stepsOf } from "./task/progress";
import { flagsOf } from "./words/flags";
import { filled } from "./words/reason";
import { unsentWords } from "./words/unsent";

type Card = components["schemas"]["Card"];

/** "Go on: pass 1, bolt 3 of 6". The steps are counted here: the card knows none of what waits on this phone. */
export function nextWords(card: Card): string {
  const task = rows("task").get(card.task);
  const steps = task ? stepsOf(task) : [];
  const current = steps.find((one) => one.state === "current");
  const next = card.next_step;
  if (current && current.number !== next?.number) return `Go on: step ${current.number} of ${steps.length}`;
  if (!next || (task && !current)) return "Sign it off";
  if (next.starts_again) return "Start the final pass again";
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
  const task = rows("task").get(card.task);
  const seen = task && taskSeen(task);
  const unsent = seen?.unsent.at(-1);
  const asked = seen && seen.row.holder !== task.holder && seen.row.holder === actor.value;
  const ready = card.state === "waiting" && readyOnceHandedOver(card.waits);
  const reason = card.reason ?? card.waits.find((wait) => !liftedHere(wait));
  const words = reason
    ? filled(reason.says, reason.params ?? {})
    : ready
      ? `Signed off on this phone: ${card.waits.map(({ params }) => params?.about).join(", ")}.`
      : seen && card.next_step
        ? stepsOf(seen.row).find((one) => one.state === "current")?.plan.say
        : card.next_step?.say;
  const holder = card.holder && card.state === "taken" ? `taken by ${nameOf(card.holder)}` : undefined;
  return (
    <Tag
      number={card.task}
      state={card.state}
      stateWord={asked ? "asked for" : ready ? ONCE_HANDED_OVER : holder}
      title={card.title}
      reason={words}
      flags={flagsOf(card)}
      mostFlags={3}
      lit={lit ?? false}
      stub={unsent && unsentWords(unsent.envelope)}
      signedBy={card.signed_by.map((person) => nameOf(person))}
      href={`/tasks/${card.task}`}
      action={action}
    />
  );
}
