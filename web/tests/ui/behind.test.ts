import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { people } from "../../src/app/session";
import { behind, howLines, wrenchWarnings } from "../../src/ui/torque/behind";
import type { TorqueView } from "../../src/ui/torque/seen";
import { lastDay, moment } from "../../src/ui/words/times";

type ReadingOut = TorqueView["readings"][number];

const AT = Date.UTC(2026, 10, 26, 14, 6);
const DUE = Date.UTC(2027, 2, 4); // the end of 3 March
const OVERDUE = {
  code: "wrench_overdue",
  rule: "R11",
  says: "The torque wrench is 12 days past its check.",
  way_on: "Take another, or have it checked.",
  params: {},
};

function read(pass_no: number, more: Partial<ReadingOut> = {}, wrench: string | null = "W1"): ReadingOut {
  const turned = wrench === null;
  return {
    reading: {
      bolt: 1,
      pass_no,
      by: "bram",
      wrench,
      set_value: turned ? null : "24",
      unit: turned ? null : "n_m",
      angle_deg: turned ? "90" : null,
    },
    taken_ms: AT,
    counts_now: true,
    check_until_ms: turned ? null : DUE,
    ...more,
  } as ReadingOut;
}

function group(readings: ReadingOut[], torquePasses: number, turns = 0): TorqueView {
  const passes = Array.from({ length: torquePasses + turns }, (_, n) => ({
    pass_no: n + 1,
    torque: n < torquePasses ? {} : null,
  }));
  return { passes, readings } as TorqueView;
}

people.value = new Map([
  ["bram", { person: "bram", name: "Bram Kuiper", initials: "BK", icon: null, pin_set: true, devices: 1 }],
]);

test("R13: who, when, with which torque wrench, and the last day of its check", () => {
  expect(howLines([read(2)])).toEqual([
    `Bram Kuiper, ${moment(AT)}, torque wrench W1, check due ${lastDay(DUE)}`,
  ]);
  expect(lastDay(DUE)).toMatch(/3/); // 3 March, in whatever order this machine writes days
  expect(wrenchWarnings([read(2)])).toEqual([]);
});

test("R11: a torque wrench past its check when it was read is said so, in words", () => {
  const late = read(2, { check_until_ms: AT - 12 * 86_400_000, wrench_unfit: [OVERDUE] });
  expect(howLines([late])[0]).toContain("check was due ");
  expect(wrenchWarnings([late])).toEqual([
    "When it was read: The torque wrench is 12 days past its check. Take another, or have it checked.",
  ]);
  expect(howLines([read(2, { check_until_ms: null })])[0]).toContain("no check on record");
});

test("an answer from an older app, which says nothing of the check, is given no words about it", () => {
  const { check_until_ms: _, ...before } = read(2);
  expect(howLines([before])).toEqual([`Bram Kuiper, ${moment(AT)}, torque wrench W1`]);
});

test("R13: what is signed for is the whole torque and each turn, of this bolt, and only what stands", () => {
  const early = read(1);
  const gone = read(2, { counts_now: false });
  const whole = read(2);
  const turn = read(3, {}, null);
  const other = { ...read(2), reading: { ...read(2).reading, bolt: 2 } };
  const view = group([early, gone, whole, turn, other], 2, 1);
  expect(behind(view, 1)).toEqual([whole, turn]);
  const lines = howLines(behind(view, 1));
  expect(lines[0]).toContain("clicked at 24 N·m: Bram Kuiper");
  expect(lines[1]).toBe(`turned 90°: Bram Kuiper, ${moment(AT)}`);
});
