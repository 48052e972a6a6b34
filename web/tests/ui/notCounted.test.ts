import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { notCounted } from "../../src/ui/torque/notCounted";
import type { Seen, TorqueView } from "../../src/ui/torque/seen";

type ReadingOut = TorqueView["readings"][number];

function why(code: string, says: string, way_on: string): NonNullable<ReadingOut["why"]> {
  return { code, rule: "R11", says, way_on, params: {} };
}

const OUTSIDE = why("outside_high", "99 is over 96.", "Back it off, tighten, read again.");
const OUT_OF_ORDER = why("earlier_pass_open", "Bolt 2 still lacks pass 1.", "Go back to bolt 2.");
const NOT_LOOKED = why("as_found_missing", "Nobody has said how.", "Back it off, look.");
const TURNED = why("already_turned", "Already turned by Aled.", "Do not turn it again. Ask the lead.");

function read(id: string, bolt: number, reason: ReadingOut["why"] | null, more: object = {}): ReadingOut {
  return {
    reading: {
      id,
      bolt,
      pass_no: 2,
      round: 0,
      by: "bram",
      helped: ["priya"],
      crossed_out_why: null,
      ...more,
    },
    counts_now: reason === null,
    why: reason,
  } as ReadingOut;
}

function group(readings: ReadingOut[], more: object = {}): TorqueView {
  const bolts = [1, 2, 3].map((n) => ({ n, needs_new: false }));
  return { round: 0, readings, bolts, countersign: null, starts_again: false, ...more } as TorqueView;
}

function at(pass: number | null, ...open: number[]): Seen {
  return { pass, open, fasteners: [], unsent: 0 };
}

const OUT = read("c1.b1", 1, OUTSIDE);

test("R12: what is so and the way on, for who read it and for who helped, and for nobody else", () => {
  const told = {
    sentence: "Bolt 1: kept, not counted. 99 is over 96.",
    remedy: "Back it off, tighten, read again.",
  };
  expect(notCounted(group([OUT]), at(2, 1, 2), "bram")).toEqual(told);
  expect(notCounted(group([OUT]), at(2, 1, 2), "priya")).toEqual(told);
  expect(notCounted(group([OUT]), at(2, 1, 2), "sofia")).toBeNull();
  expect(notCounted(group([OUT]), at(2, 1, 2), null)).toBeNull();
});

test("R11: the newest is said, and once for all bolts of one press", () => {
  const press = [1, 2, 3].map((n) => read(`c2.b${n}`, n, NOT_LOOKED, { pass_no: 1 }));
  expect(notCounted(group([OUT, ...press]), at(1, 1, 2, 3), "bram")?.sentence).toBe(
    "Bolts 1, 2, 3: kept, not counted. Nobody has said how.",
  );
});

test.each([
  ["read again since, here or anywhere", [OUT, read("c2.b1", 1, null)], at(2, 2), {}],
  ["read again, still on this phone", [OUT], at(2, 2, 3), {}],
  [
    "typed wrong: its correction speaks",
    [read("c1.b1", 1, OUTSIDE, { crossed_out_why: "typed_wrong" })],
    at(2, 1),
    {},
  ],
  ["of the round before", [OUT], at(1, 1, 2, 3), { round: 1 }],
  ["countersigned since", [OUT], at(null), { countersign: {} }],
  ["out of order, and its pass has come", [read("c1.b1", 1, OUT_OF_ORDER)], at(2, 1), {}],
])("nothing is left to do: %s", (_, readings, seen, more) => {
  expect(notCounted(group(readings, more), seen, "bram")).toBeNull();
});

test("R11: out of order, while the earlier pass is open", () => {
  const early = [read("c1.b1", 1, OUT_OF_ORDER)];
  expect(notCounted(group(early), at(1, 2), "bram")?.remedy).toBe("Go back to bolt 2.");
});

test("R15: turned twice is told although the bolt has its reading", () => {
  const twice = [read("c1.b1", 1, null, { by: "aled", helped: [] }), read("c2.b1", 1, TURNED)];
  expect(notCounted(group(twice), at(null), "bram")?.remedy).toContain("Do not turn it again.");
});
