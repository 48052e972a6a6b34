import { expect, test } from "vitest";
import { type SlipAsks, slipOf } from "../../src/ui/torque/slip";

// As the service prepares it for 92 N·m: 67.856 lbf·ft and 814.27 lbf·in are 92 N·m (NIST SP 811).
const NINETY_TWO: SlipAsks = {
  target: "92",
  low: "88",
  high: "96",
  slips: {
    near_low: "69",
    near_high: "115",
    looks_like: [
      { low: "65.82", high: "69.891", unit: "lbf_ft" },
      { low: "789.84", high: "838.7", unit: "lbf_in" },
      { low: "828", high: "1012", unit: null },
      { low: "8.28", high: "10.12", unit: null },
    ],
  },
};

test.each([
  ["88", null],
  ["96,0", null],
  ["99", "99 is over 96."],
  ["87,9", "87,9 is under 88."],
  ["115", "115 is over 96."],
  ["115.1", "115.1 is far from 92 N·m. Look at the torque wrench."],
  ["50", "50 is far from 92 N·m. Look at the torque wrench."],
  ["68", "68 is far from 92 N·m. 68 lbf·ft would be 92 N·m. Look at the torque wrench."],
  ["920", "920 is far from 92 N·m. A digit too many or too few? Look at the torque wrench."],
  ["9.2", "9.2 is far from 92 N·m. A digit too many or too few? Look at the torque wrench."],
  [
    "830",
    "830 is far from 92 N·m. 830 lbf·in would be 92 N·m. A digit too many or too few? Look at the torque wrench.",
  ],
])("R12: %s typed for 92 N·m, 88 to 96", (typed, said) => {
  expect(slipOf(typed, NINETY_TWO, "n_m")?.sentence ?? null).toBe(said);
});

test("R12: a value that looks like another unit names it, though it is near", () => {
  expect(slipOf("69.5", NINETY_TWO, "n_m")).toMatchObject({ how: "far", otherUnit: "lbf_ft" });
  expect(slipOf("70", NINETY_TWO, "n_m")).toMatchObject({ how: "near" });
  expect(slipOf("920", NINETY_TWO, "n_m")?.otherUnit).toBeUndefined();
});

test("R16: compared with the exact window, said to hundredths", () => {
  // 32 N·m is 23.602 lbf·ft; 5 % about it is 22.42189 to 24.782088.
  const exact = { target: "23.601989", low: "22.42189", high: "24.782088" };
  const asks = {
    ...exact,
    rounded: { target: "23.6", low: "22.43", high: "24.78" },
    slips: { near_low: "17.7", near_high: "29.5", looks_like: [] },
  };
  expect(slipOf("24.782", asks, "lbf_ft")).toBeNull();
  expect(slipOf("24.783", asks, "lbf_ft")?.sentence).toBe("24.783 is over 24.78.");
  expect(slipOf("3", asks, "lbf_ft")?.sentence).toBe("3 is far from 23.6 lbf·ft. Look at the torque wrench.");
});

test("a turn is read on an angle gauge", () => {
  const turn = {
    target: "30",
    low: "28.5",
    high: "31.5",
    slips: { near_low: "22.5", near_high: "37.5", looks_like: [] },
  };
  expect(slipOf("20", turn, "deg")?.sentence).toBe("20 is far from 30 degrees. Look at the angle gauge.");
});
