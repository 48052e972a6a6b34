import { expect, it } from "vitest";
import type { Card } from "../../src/ui/lists/atHand";
import { byReason } from "../../src/ui/lists/notYet";

const card = (task: string, code: string, params: Record<string, unknown>, reason = false): Card =>
  ({
    task,
    reason: reason ? { code, says: "", params } : null,
    waits: reason
      ? []
      : [
          { code, says: "", params },
          { code: "gate", says: "", params: { gate: "Crank" } },
        ],
  }) as unknown as Card;

const task = (about: string, title: string) => ({ about, title });
const told = (cards: Card[]) =>
  byReason(cards).map((one) => [one.words, one.cards.map((card) => card.task).join(" ")]);

it("what waits is told by what it waits for in the end, what holds up most first, each task once", () => {
  expect(
    told([
      card("T1", "lag", { about: "T9", why: "cure" }),
      card("T2", "task", task("T6", "Engine in")),
      card("T3", "task", task("T4", "Shock absorbers in")),
      card("T4", "task", task("T5", "Uprights on")), // T5 can be done now: it is no card here
      card("T7", "hazard_clash", { at_it: "is under the car" }, true),
      card("T8", "task", task("T3", "Wheels on")),
      card("T10", "task", task("T1", "Tub in")), // waits for what cures
    ]),
  ).toEqual([
    ["T5 Uprights on comes first", "T3 T4 T8"],
    ["Time must pass first: cure", "T1 T10"],
    ["T6 Engine in comes first", "T2"],
    ["What goes on beside it could hurt somebody", "T7"],
  ]);
});

it("a ring of tasks comes to an end", () => {
  const ring = [card("T1", "task", task("T2", "B")), card("T2", "task", task("T1", "A"))];
  expect(
    told(ring)
      .flatMap(([, tasks]) => tasks?.split(" ") ?? [])
      .sort(),
  ).toEqual(["T1", "T2"]);
});
