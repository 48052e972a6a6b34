/** The prepared queue with what was said on this phone, and not handed over yet, laid over. */

import { rows } from "../../app/mirror";
import { isOn, taskSeen } from "../../app/tasks";
import { readyOnceHandedOver } from "../../app/waits";
import type { components } from "../../wire/schema";

export type QueueView = components["schemas"]["QueueView"];
export type Card = components["schemas"]["Card"];

export interface AtHand extends QueueView {
  /** Signed off, given back or left on this phone. */
  handed: Card[];
  /** Waiting for nothing but one's own sign-offs that lie on this phone. */
  once: Card[];
}

export function atHand(view: QueueView): AtHand {
  const mine = (card: Card): boolean => {
    const task = rows("task").get(card.task);
    const seen = task && taskSeen(task);
    return seen ? isOn(seen.row, view.person) && !seen.signed : view.taken.includes(card);
  };
  const ready = [...(view.start_now ? [view.start_now] : []), ...view.after_that];
  const all = [...view.taken, ...ready, ...view.help_wanted, ...view.not_yet, ...view.not_for_you];
  const taken = all.filter(mine);
  const rest = (cards: readonly Card[]) => cards.filter((card) => !taken.includes(card));
  const [start_now = null, ...after_that] = rest(ready);
  const waiting = rest(view.not_yet);
  const once = waiting.filter((card) => !card.not_for_me && readyOnceHandedOver(card.waits));
  return {
    ...view,
    taken,
    handed: rest(view.taken),
    start_now,
    after_that,
    help_wanted: rest(view.help_wanted),
    once,
    not_yet: waiting.filter((card) => !once.includes(card)),
    not_for_you: rest(view.not_for_you),
  };
}
