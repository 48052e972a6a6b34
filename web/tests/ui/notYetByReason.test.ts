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

const T409 = { about: "T409", title: "Shock absorbers in" };
const T506 = { about: "T506", title: "Engine in" };

it("what waits is told by what it waits for first, most tasks first, each once", () => {
  const told = byReason([
    card("A", "lag", { about: "T1", why: "cure" }),
    card("B", "task", T506),
    card("C", "task", T409),
    card("D", "hazard_clash", { at_it: "bram" }, true),
    card("E", "task", T409),
  ]);
  expect(told.map(({ words, cards }) => [words, cards.map((one) => one.task).join("")])).toEqual([
    ["Another task comes first", "BCE"],
    ["Time must pass first: cure", "A"],
    ["What goes on beside it could hurt somebody", "D"],
  ]);
  expect(told[0]?.within.map(({ words, cards }) => [words, cards.map((one) => one.task).join("")])).toEqual([
    ["T409 Shock absorbers in", "CE"],
    ["T506 Engine in", "B"],
  ]);
  expect(told[1]?.within).toEqual([]);
});

it("one cause for all of a reason is said with it", () => {
  expect(byReason([card("A", "task", T409), card("B", "task", T409)]).map(({ words }) => words)).toEqual([
    "Another task comes first: T409 Shock absorbers in",
  ]);
});
