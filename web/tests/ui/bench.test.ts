import { describe, expect, test, vi } from "vitest";
import { figure, type Told, written } from "../../src/ui/bench/Answer";
import { rounding } from "../../src/ui/bench/figures";
import {
  type AskedFor,
  fieldsOf,
  filled,
  help,
  type Inputs,
  missing,
  sentenceOf,
} from "../../src/ui/bench/inputs";
import { inputsIn, linkTo, wantedIn } from "../../src/ui/bench/link";
import { pass } from "../../src/ui/bench/share";

const MM = [
  { id: "mm", name: "mm" },
  { id: "in", name: "in" },
];

function asked(name: string, kind: string, more: Partial<AskedFor> = {}): AskedFor {
  const bare = { unit: "-", units: [], text: "what", low: null, high: null, optional: false, default: null };
  const label = name.replace(/_mm$/, "").replace(/^./, (first) => first.toUpperCase());
  return { name, label, kind, ...bare, choices: [], columns: [], ...more };
}

const FORM: readonly AskedFor[] = [
  asked("stock_mm", "exact", { unit: "mm", units: MM, low: "10", high: "100000" }),
  asked("pieces", "rows", {
    columns: [
      asked("length_mm", "exact", { unit: "mm", units: MM }),
      asked("count", "whole"),
      asked("round", "yes_no", { optional: true, default: "False" }),
    ],
  }),
  asked("kerf_mm", "exact", { unit: "mm", units: MM, optional: true, default: "0.0", low: "0", high: "20" }),
  asked("how", "choice", { choices: ["saw", "knife"], optional: true, default: "saw" }),
  asked("marks_mm", "numbers", { unit: "mm", units: MM, optional: true }),
];
const mm = (value: string) => ({ value, unit: "mm" });
const WHOLE: Inputs = {
  stock_mm: mm("1500"),
  pieces: [
    { length_mm: mm("620"), count: "2" },
    { length_mm: { value: "9 5/8", unit: "in" }, count: "3", round: true },
  ],
  how: "knife",
  marks_mm: [mm("30"), mm("60")],
};

describe("what a form asks for", () => {
  test("limits are said with their unit, and what else counts", () => {
    expect(help(FORM[0] as AskedFor)).toBe("what, 10 to 100000 mm");
    expect(help(FORM[2] as AskedFor)).toBe("what, 0 to 20 mm (else 0 mm)");
    expect(help(asked("percents", "numbers", { default: "(30, 60, 100)" }))).toBe("what (else 30, 60, 100)");
  });

  test("the first thing missing is named with its row", () => {
    expect(missing(FORM, {})).toBe("Stock");
    expect(missing(FORM, { stock_mm: mm(" ") })).toBe("Stock");
    expect(missing(FORM, { stock_mm: mm("1500") })).toBe("Length in row 1 of pieces");
    const half: Inputs = { stock_mm: mm("1500"), pieces: [{ length_mm: mm("620"), count: "2" }, {}] };
    expect(missing(FORM, half)).toBe("Length in row 2 of pieces");
    expect(missing(FORM, WHOLE)).toBeUndefined();
    expect(missing([asked("lengths", "texts")], { lengths: ["", " "] })).toBe("Lengths");
  });

  test("what was left empty is not sent", () => {
    const sent = filled(FORM, { ...WHOLE, kerf_mm: mm(""), marks_mm: [mm("30"), mm("")] });
    expect(sent).toEqual({ ...WHOLE, marks_mm: [mm("30")] });
    expect(filled(FORM, { marks_mm: [mm("")] })).toEqual({ pieces: [{}] });
  });

  test("a refusal finds its cell, and only one that is there", () => {
    const fields = fieldsOf(FORM, WHOLE);
    expect(fields).toContain("pieces");
    expect(fields).toContain("pieces[1].length_mm");
    expect(fields).toContain("marks_mm[1]");
    expect(fields).not.toContain("pieces[2].length_mm");
    const problem = { code: "bad_input", title: "", status: 422, way_on: "Use longer stock." };
    const params = { field: "pieces[1].length_mm", problem: "is longer than the stock." };
    expect(sentenceOf({ ...problem, detail: "", params })).toBe(
      "Is longer than the stock. Use longer stock.",
    );
  });
});

describe("the link", () => {
  test("there and back again it is the same form, filled", () => {
    const link = new URL(linkTo("https://garage.local", "cut_plan", WHOLE));
    expect(link.pathname).toBe("/bench/cut_plan");
    expect(inputsIn(link.search, FORM)).toEqual(WHOLE);
  });

  test("it says in which units the answer is wanted, of those offered", () => {
    const link = new URL(linkTo("https://garage.local", "cut_plan", {}, ["in", "lb"]));
    expect(wantedIn(link.search, ["mm", "in"])).toEqual(["in"]);
    expect(wantedIn("?with=%7B%7D", ["mm", "in"])).toEqual([]);
  });

  test("what does not fit is left out: cut off, of another kind, made up", () => {
    const found = (read: unknown) => inputsIn(`?with=${encodeURIComponent(JSON.stringify(read))}`, FORM);
    expect(inputsIn("?with=%7B%22stock", FORM)).toEqual({});
    expect(inputsIn("", FORM)).toEqual({});
    expect(found(null)).toEqual({});
    expect(found([1])).toEqual({});
    expect(found({ stock_mm: "1500", colour: "red", how: "axe", marks_mm: "30" })).toEqual({});
    expect(found({ stock_mm: { value: 1500, unit: "mm" } })).toEqual({ stock_mm: mm("1500") });
    expect(found({ stock_mm: { value: "1500", unit: "kg" } })).toEqual({});
    expect(found({ pieces: [null, { count: 2, length_mm: {}, round: "yes", x: 1 }] })).toEqual({
      pieces: [{ count: "2" }],
    });
  });
});

describe("passing it on", () => {
  const writeText = () => ({ writeText: vi.fn(async (_: string) => undefined) });
  const refuses = (name: string) => async () => {
    throw Object.assign(new Error("no"), { name });
  };

  test("shared where the phone can share, and nothing is copied", async () => {
    const share = vi.fn(async () => undefined);
    const clipboard = writeText();
    expect(await pass("L", "T", { share, clipboard })).toBe("shared");
    expect(share).toHaveBeenCalledWith({ title: "T", url: "L" });
    expect(clipboard.writeText).not.toHaveBeenCalled();
  });

  test("closed again is neither copied nor shown", async () => {
    const clipboard = writeText();
    expect(await pass("L", "T", { share: refuses("AbortError"), clipboard })).toBe("left");
    expect(clipboard.writeText).not.toHaveBeenCalled();
  });

  test("else copied, and by hand where that is missing or not allowed", async () => {
    const clipboard = writeText();
    expect(await pass("L", "T", { clipboard })).toBe("copied");
    expect(clipboard.writeText).toHaveBeenCalledWith("L");
    expect(await pass("L", "T", { share: refuses("NotAllowedError"), clipboard: writeText() })).toBe(
      "copied",
    );
    expect(await pass("L", "T", {})).toBe("by_hand");
    expect(await pass("L", "T", { clipboard: { writeText: refuses("NotAllowedError") } })).toBe("by_hand");
  });
});

test("figures are written with their unit", () => {
  const told = (unit: string, ...names: string[]): Told => {
    const units = names.map((name, at) => ({ id: at === 0 ? unit : name, name }));
    return { name: "x", label: "X", unit, units, text: "", many: false, parts: [] };
  };
  expect(written({ value: 107.387150069, unit: "kg" }, told("kg", "kg", "lb"))).toBe("107.4 kg");
  expect(written({ value: 246.48, unit: "lb" }, told("kg", "kg", "lb"))).toBe("246.5 lb");
  expect(written({ value: 45, unit: "deg" }, told("deg", "°"))).toBe("45°");
  expect(
    written(
      [
        { value: "620", unit: "mm" },
        { value: "480", unit: "mm" },
      ],
      told("mm", "mm", "in"),
    ),
  ).toBe("620, 480 mm");
  expect(written([1, 5, 3], told("-"))).toBe("1, 5, 3");
  expect(written(null, told("kg", "kg", "lb"))).toBe("none");
  expect(written([], told("kg", "kg", "lb"))).toBe("none");
  expect(written(true, told("-"))).toBe("yes");
});

describe("as many figures as mean something", () => {
  const round = (inputs: Inputs, figures: number | null = null) =>
    rounding({ figures, inputs: FORM }, inputs);

  test("where a factor is known as a range, two, and three where the first is a 1", () => {
    const two = round(WHOLE, 2);
    expect([61.54, 84.87, 113.6, 0.1874, -25.08, 9.96].map(two.round)).toEqual([62, 85, 114, 0.187, -25, 10]);
    expect(figure(84.87, two)).toBe("85");
    expect(["75", "37.62375", "8.8"].map((one) => figure(one, two))).toEqual(["75", "38", "8.8"]);
  });

  test("else as many as the least exact figure typed has, four at least, six at most", () => {
    expect(round({}).round(951.8049)).toBe(951.8);
    expect(round({ stock_mm: mm("1500"), kerf_mm: mm("0.050") }).round(951.8049)).toBe(951.8);
    expect(
      round({ stock_mm: mm("1500.0"), pieces: [{ length_mm: mm("62,050"), count: "2" }] }).round(951.8049),
    ).toBe(951.8);
    expect(round({ stock_mm: mm("1500.00") }).round(951.80494)).toBe(951.805);
    expect(round({ stock_mm: mm("1500.000"), marks_mm: [mm("-30.500")] }).round(951.80494)).toBe(951.8);
    expect(round({ stock_mm: { value: "12 7/16", unit: "in" } }).round(951.80494)).toBe(951.8);
  });

  test("counts and exact decimals stay; one without an end does not fill the screen", () => {
    expect(figure(123456)).toBe("123456");
    expect(figure("284.559375")).toBe("284.559375");
    expect(figure("117.391304348")).toBe("117.4");
    expect(figure("8.8")).toBe("8.8");
  });
});

test("words that are offered are written as words and units, what a person typed stays", () => {
  const plain = { name: "unit", label: "Unit", unit: "-", units: [], text: "", many: false, parts: [] };
  expect(["lbf_ft", "kgf_cm", "strong_warn", "zinc_dry"].map((one) => written(one, plain))).toEqual([
    "lbf·ft",
    "kgf·cm",
    "strong warn",
    "zinc dry",
  ]);
  expect(["c", "l", "Left_1", "8.8"].map((one) => written(one, plain))).toEqual(["c", "l", "Left_1", "8.8"]);
});
