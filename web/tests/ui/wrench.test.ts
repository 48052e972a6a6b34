import { expect, test } from "vitest";
import type { WrenchFor } from "../../src/ui/torque/seen";
import { markWords, offScaleWords, usesWords, wrenchWords } from "../../src/ui/torque/wrench";

type Pass = NonNullable<WrenchFor["passes"]>[number];

test.each([
  ["72", "-2", "-2.7", true, "Nearest mark inside the limits: 72 N·m, 2.7 % low."],
  ["18", "0.298", "1.7", true, "Nearest mark inside the limits: 18 N·m, 1.7 % high."],
  ["24", "0", "0", true, "Nearest mark inside the limits: 24 N·m, on the target."],
  ["24", "-0.001", "0", true, "Nearest mark inside the limits: 24 N·m, less than 0.1 % low."],
  [
    "25",
    "1",
    "4.2",
    false,
    "No mark is inside the limits: the nearest is 25 N·m, 4.2 % high. Take a finer scale.",
  ],
  [null, null, null, false, "The target is off this scale."],
])(
  "R12: the nearest mark %s, off by %s",
  (nearest_mark, mark_error, mark_error_percent, mark_inside, said) => {
    const pass = { nearest_mark, mark_error, mark_error_percent, mark_inside } as Pass;
    expect(markWords(pass, "n_m")).toBe(said);
  },
);

test("R11: how often it was used since its check, and when that is enough", () => {
  const checked = { uses_allowed: 5000, until_ms: 1 };
  expect(usesWords({ uses: 41, ...checked })).toBe("used 41 of 5000 times since its check");
  expect(usesWords({ uses: 5000, ...checked })).toContain(": have it checked");
  expect(usesWords({ uses: 41, ...checked, until_ms: null })).toBe("used 41 times");
});

test("of what an answer from an older app does not say, nothing is said", () => {
  const before = { nearest_mark: "24", mark_inside: true } as Pass;
  expect(markWords(before, "n_m")).toBe("Nearest mark inside the limits: 24 N·m.");
  expect(markWords({ ...before, mark_error: "-2" }, "n_m")).toBe("Nearest mark inside the limits: 24 N·m.");
  const wrench = { lowest: "10", highest: "100", unit: "n_m" } as WrenchFor;
  expect(usesWords(wrench)).toBeNull();
  expect(wrenchWords(wrench)).toBe("10 to 100 N·m");
  expect(wrenchWords({ ...wrench, uses: 41 })).toBe("10 to 100 N·m, used 41 times");
});

test("R11: an early pass off the scale of a torque wrench is said: it can't click there", () => {
  const wrench = { wrench: "W3", lowest: "40", highest: "200", unit: "n_m" } as WrenchFor;
  const figures = { target: "22", low: "11", high: "33" };
  const pass = { pass_no: 1, ...figures, rounded: figures, nearest_mark: null } as unknown as Pass;
  expect(offScaleWords(pass, wrench)).toBe(
    "22 N·m is off the scale of W3, 40 to 200 N·m. Take another torque wrench for pass 1.",
  );
  expect(offScaleWords({ ...pass, nearest_mark: "22" }, wrench)).toBeNull();
});
