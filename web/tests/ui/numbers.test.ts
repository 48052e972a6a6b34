import { describe, expect, test } from "vitest";
import { formatInches, inchesInMm, localeMark, parseInches, plainDecimal } from "../../src/ui/parts/numbers";

describe("R16: what was typed is what is compared", () => {
  test("comma and point both count, and no digit is lost or gained", () => {
    expect(plainDecimal("92,5")).toBe("92.5");
    expect(plainDecimal("92.50")).toBe("92.50");
    expect(plainDecimal(" 92 ")).toBe("92");
    expect(plainDecimal(",5")).toBe("0.5");
  });

  test("R32: what is no plain number is refused, thousands marks too", () => {
    for (const typed of ["", "1.234,5", "1,234.5", "92 N·m", "-3", "9e1", "."]) {
      expect(plainDecimal(typed), typed).toBeUndefined();
    }
  });

  test("the decimal key shows the mark of the locale", () => {
    expect(localeMark("en-GB")).toBe(".");
    expect(localeMark("de-DE")).toBe(",");
  });
});

// 1 in = 25.4 mm exactly (international yard and pound agreement, 1959); sums worked by hand from that.
describe("R16: inches are exact sixty-fourths", () => {
  test.each([
    ["12 7/16", "12 7/16", "315.9"], // 199/16 x 25.4 = 315.9125
    ["8/16", "1/2", "12.7"],
    ["8 3/32", "8 3/32", "205.6"], // 259/32 x 25.4 = 205.58125
    ["11 13/64", "11 13/64", "284.6"], // 717/64 x 25.4 = 284.559375
    ["9 5/8", "9 5/8", "244.5"], // 77/8 x 25.4 = 244.475
    ["11/16", "11/16", "17.5"], // 17.4625
    ["72", "72", "1828.8"],
  ])("%s in is written %s and is %s mm", (typed, written, mm) => {
    const sixtyFourths = parseInches(typed);
    if (sixtyFourths === undefined) throw new Error(`${typed} was refused`);
    expect(formatInches(sixtyFourths)).toBe(written);
    expect(inchesInMm(sixtyFourths)).toBe(mm);
  });

  test("R32: a denominator outside 2 to 64, a lost space and a decimal are refused", () => {
    for (const typed of ["1/3", "5/128", "127/16", "95.8", "9 5/", "", "12 16/16", "5/0"]) {
      expect(parseInches(typed), typed).toBeUndefined();
    }
  });
});
