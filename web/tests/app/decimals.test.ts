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

  it("orders decimals of different length", () => {
    expect(compareDecimals("0.30", "0.3")).toBe(0);
    expect(compareDecimals("-1", "1")).toBeLessThan(0);
    expect(() => compareDecimals("1e5", "1")).toThrow();
  });
});
