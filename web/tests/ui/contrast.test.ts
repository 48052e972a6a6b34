import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

/** The colours of one theme, as written in the design language. */
function theme(selector: string): Record<string, string> {
  const css = readFileSync("src/ui/style/language.css", "utf8");
  const start = css.indexOf(`${selector} {`);
  const block = css.slice(start, css.indexOf("}", start));
  return Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{3,6});/g)].map((m) => [m[1], m[2]]));
}

/** Relative luminance, WCAG 2.2. */
function luminance(hex: string): number {
  const full = hex.length === 4 ? hex.replace(/[0-9a-f]/g, "$&$&") : hex;
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(full.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string | undefined, b: string | undefined): number {
  if (a === undefined || b === undefined) throw new Error("a colour is missing");
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

test("the measure itself: black on white is 21, #767676 on white 4.54 (WCAG 2.2, 1.4.3)", () => {
  expect(contrast("#000", "#fff")).toBeCloseTo(21, 5);
  expect(contrast("#767676", "#ffffff")).toBeCloseTo(4.54, 2);
});

const DARK = theme(":root");
const THEMES = { dark: DARK, light: { ...DARK, ...theme(':root[data-theme="light"]') } };

describe.each(Object.entries(THEMES))("WCAG 2.2 contrast, %s", (_name, c) => {
  test.each(["ground", "bench", "tag"])("text on %s has 4.5 to 1 or more, edges 3 to 1", (on) => {
    for (const text of ["ink", "dim", "witness", "halt"]) {
      expect(contrast(c[text], c[on]), text).toBeGreaterThanOrEqual(4.5);
    }
    expect(contrast(c.line, c[on])).toBeGreaterThanOrEqual(3);
  });

  test("all that stands on a lit tag or a main button has 4.5 to 1", () => {
    for (const text of ["on-lit", "lit-line", "lit-witness", "lit-halt"]) {
      expect(contrast(c[text], c.lit), text).toBeGreaterThanOrEqual(4.5);
    }
    expect(contrast(c["on-act"], c.act)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(c["lit-on-button"], c["on-lit"])).toBeGreaterThanOrEqual(4.5);
  });

  test("a signal word has 4.5 to 1 on its colour", () => {
    for (const [word, ink] of [
      ["danger", "white"],
      ["warning", "black"],
      ["caution", "black"],
      ["notice", "white"],
    ]) {
      expect(contrast(c[`signal-${ink}`], c[`signal-${word}`]), word).toBeGreaterThanOrEqual(4.5);
    }
  });
});
