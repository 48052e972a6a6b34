import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import type { Setting, TorqueView, WrenchFor } from "../../src/ui/torque/seen";
import { holding, keptFor, knownUnfit, wrenchTrouble } from "../../src/ui/torque/setting";

const SETTING: Setting = { wrench: "W1", unfit: [], own: null, faces: "clean", threads: "oiled" };
const ROUND = { round: 0, final_pass_from: 0 };
const OVERDUE = {
  code: "wrench_overdue",
  rule: "R11",
  says: "The torque wrench is {days} days past its check.",
  way_on: "Take another, or have it checked.",
  params: { days: 3 },
};

test.each([
  ["the same person in the same round", ROUND, "bram", SETTING],
  ["another person on a shared tablet", ROUND, "sofia", null],
  ["nobody yet", ROUND, null, null],
  ["undone since (R26)", { round: 1, final_pass_from: 0 }, "bram", null],
  ["the final pass was interrupted since (R10)", { round: 0, final_pass_from: 1 }, "bram", null],
])("R11: a kept setting holds for: %s", (_, round, person, holds) => {
  expect(holding(keptFor(ROUND, "bram", SETTING), round, person)).toEqual(holds);
  expect(holding(null, round, person)).toBeNull();
});

function store(...wrenches: { wrench: string; why: (typeof OVERDUE)[] }[]): TorqueView {
  const passes = [1, 2].map((pass_no) => ({ pass_no, torque: { percent: 50 * pass_no }, turn: null }));
  return { wrenches, passes } as unknown as TorqueView;
}

test("R11: a torque wrench that has become unfit, or is gone, is said with what to do", () => {
  expect(wrenchTrouble(store({ wrench: "W1", why: [] }), SETTING, 2)).toBeNull();
  expect(wrenchTrouble(store({ wrench: "W1", why: [OVERDUE] }), SETTING, 2)).toEqual({
    sentence: "W1, set here before: The torque wrench is 3 days past its check.",
    remedy: "Take another, or have it checked.",
  });
  expect(wrenchTrouble(store(), SETTING, 1)?.sentence).toContain("W1 is no longer in the tool store");
});

test("R11: what was known when it was chosen is not asked again", () => {
  const knowing = { ...SETTING, unfit: ["wrench_overdue"] };
  expect(wrenchTrouble(store({ wrench: "W1", why: [OVERDUE] }), knowing, 2)).toBeNull();
  const dropped = { ...OVERDUE, code: "wrench_dropped" };
  expect(wrenchTrouble(store({ wrench: "W1", why: [OVERDUE, dropped] }), knowing, 2)).not.toBeNull();
});

test("R11: what does for an early pass is asked for anew at the pass of the whole torque", () => {
  const small = { wrench: "W1", why: [{ ...OVERDUE, code: "above_range" }] };
  const view = store(small);
  const begun = { ...SETTING, ...knownUnfit(view, 1, small as unknown as WrenchFor) };
  expect(wrenchTrouble(view, begun, 1)).toBeNull();
  expect(wrenchTrouble(view, begun, 2)).not.toBeNull();
  const dropped = { ...small, why: [...small.why, { ...OVERDUE, code: "wrench_dropped" }] };
  expect(wrenchTrouble(store(dropped), begun, 1)).not.toBeNull();
  const knowing = { ...SETTING, ...knownUnfit(view, 2, small as unknown as WrenchFor) };
  expect(wrenchTrouble(view, knowing, 2)).toBeNull();
});
