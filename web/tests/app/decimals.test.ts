import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { compareDecimals, insideWindow } from "../../src/app/decimals";

interface Case {
  why: string;
  typed: string;
  low: string;
  high: string;
  inside: boolean;
}

const { cases } = JSON.parse(
  readFileSync(new URL("../../../tests/cases/inside_window.json", import.meta.url), "utf8"),
) as {
  cases: Case[];
};

describe("R16: the phone compares exactly as the service does, by the same cases", () => {
  it.each(cases)("$typed in $low to $high: $why", ({ typed, low, high, inside }) => {
    expect(insideWindow(typed, low, high)).toBe(inside);
  });

  it("has cases to run", () => {
    expect(cases.length).toBeGreaterThan(8);
  });

  it("reads the fractions of an inch that a rule has: 7/16 is 0.4375, 29/64 is 0.453125", () => {
    expect(compareDecimals("12 7/16", "12.4375")).toBe(0);
    expect(insideWindow("29/64", "0.4", "0.453125")).toBe(true);
    expect(insideWindow("29/64", "0.4", "0.453124")).toBe(false);
    expect(() => compareDecimals("1/3", "1")).toThrow();
  });

  it("orders decimals of different length", () => {
    expect(compareDecimals("0.30", "0.3")).toBe(0);
    expect(compareDecimals("-1", "1")).toBeLessThan(0);
    expect(() => compareDecimals("1e5", "1")).toThrow();
  });
});
