import { describe, expect, test } from "vitest";
import { around } from "../../src/ui/bench/around";
import { pulleyFact } from "../../src/ui/drawings/BeltPath";
import { barParts } from "../../src/ui/drawings/barShape";
import { beltPath, frame, straights } from "../../src/ui/drawings/beltShape";
import { barFact } from "../../src/ui/drawings/CutBars";
import { supportFact } from "../../src/ui/drawings/LiftFromAbove";
import { KG, MM, roundLength, said } from "../../src/ui/drawings/scale";
import { angleArc, between, slingShape } from "../../src/ui/drawings/slingShape";

function near(point: { x: number; y: number } | undefined, x: number, y: number): void {
  expect(point?.x).toBeCloseTo(x, 3);
  expect(point?.y).toBeCloseTo(y, 3);
}

describe("sling from the side", () => {
  test("60° to the level: feet half the leg to each side, as high as the field", () => {
    // Leg 1: cos 60° = 0.5 to each side, sin 60° = 0.866 up; 100 / 0.866 = 115.470 px a unit.
    const shape = slingShape(
      { near: 0.5, far: 0.5, rise: Math.sqrt(3) / 2 },
      { left: 0, top: 10, width: 200, height: 100 },
    );
    near(shape.hook, 100, 10);
    near(shape.near, 42.265, 110);
    near(shape.far, 157.735, 110);
  });

  test("unequal: the hook stays over its own distances", () => {
    // 0.5 and 1.0 m under a rise of 1.0 m, 100 px high: 100 px a metre, 150 px wide, in the middle of 300.
    const shape = slingShape({ near: 0.5, far: 1, rise: 1 }, { left: 0, top: 0, width: 300, height: 100 });
    near(shape.hook, 125, 0);
    near(shape.near, 75, 100);
    near(shape.far, 225, 100);
  });

  test("flat legs are held by the width, straight ones by the height", () => {
    const field = { left: 0, top: 0, width: 200, height: 100 };
    // 30°: 2 cos 30° = 1.7321 wide, 0.5 high; 200 / 1.7321 = 115.470 px a unit, so 57.735 px high.
    near(slingShape({ near: 0.8660254, far: 0.8660254, rise: 0.5 }, field).far, 200, 57.735);
    near(slingShape({ near: 0, far: 0, rise: 1 }, field).near, 100, 100);
  });

  test("an angle is an arc the short way round, its words on the line that halves it", () => {
    const corner = { x: 0, y: 0 };
    expect(angleArc(corner, { x: 5, y: 0 }, { x: 0, y: -7 }, 10)).toBe("M10 0 A10 10 0 0 0 0 -10");
    expect(angleArc(corner, { x: 0, y: -7 }, { x: 5, y: 0 }, 10)).toBe("M0 -10 A10 10 0 0 1 10 0");
    near(between(corner, { x: 5, y: 0 }, { x: 0, y: -7 }, 10), 7.071, -7.071);
    // At the right foot, where the level points left: 180° and 120° halve at 150°, not at 330°.
    near(between(corner, { x: -1, y: 0 }, { x: -0.5, y: -0.8660254 }, 10), -8.66, -5);
  });
});

describe("belt from the front", () => {
  // R 21 and r 6, 30 apart: sin a = (21 - 6) / 30, a = 30°; touching at (21 sin 30°, -21 cos 30°) and so on.
  const two = [
    { x: 0, y: 0, radius: 21, back: false },
    { x: 30, y: 0, radius: 6, back: false },
  ];

  test("counter-clockwise: out along the bottom, back along the top", () => {
    const [out, back] = straights(two);
    near(out?.from, 10.5, -18.187);
    near(out?.to, 33, -5.196);
    near(back?.from, 33, 5.196);
    near(back?.to, 10.5, 18.187);
  });

  test("an idler at the back is met on its other side, by a crossing tangent", () => {
    // 30 + 30 across 100: sin = 0.6, cos = 0.8; leaves at (18, -24), comes to (100 - 18, 24): 80 long.
    const [first] = straights([
      { x: 0, y: 0, radius: 30, back: false },
      { x: 100, y: 0, radius: 30, back: true },
      { x: 200, y: 150, radius: 20, back: false },
    ]);
    near(first?.from, 18, -24);
    near(first?.to, 82, 24);
  });

  test("drawn: y turned round, the large pulley the long way", () => {
    // 57 wide in 114 px: 2 px a mm. x = 57 + 2 (x - 7.5), y = 2 (21 - y).
    const at = frame(two, { width: 114, height: 1000, margin: 0 });
    expect(at.height).toBe(84);
    near(at.place({ x: 0, y: 0 }), 42, 42);
    expect(beltPath(two, [240, 120], at)).toBe(
      "M63 78.37 L108 52.39 A12 12 0 0 0 108 31.61 L63 5.63 A42 42 0 1 0 63 78.37 Z",
    );
  });

  test("said: where it touches, how far to the next, what is wrong", () => {
    const fan = { ...two[0], name: "Fan", wrap_deg: 81.6, straight_mm: 224.2, warning: "less than 90°" };
    expect(pulleyFact({ ...fan, x: 0, y: 0, radius: 21, back: true }, "crank")).toBe(
      "Fan, at the belt's back: belt touches 82°, then 224 mm to crank; less than 90°.",
    );
  });
});

describe("cut bars", () => {
  test("pieces, cuts and rest along 1000 mm in 500 px", () => {
    // 400 + 2 + 300 + 2 = 704; 296 are left.
    expect(barParts({ stock_mm: 1000, kerf_mm: 2, pieces_mm: [400, 300] }, 500)).toEqual([
      { what: "piece", x: 0, width: 200, mm: 400 },
      { what: "kerf", x: 200, width: 1, mm: 2 },
      { what: "piece", x: 201, width: 150, mm: 300 },
      { what: "kerf", x: 351, width: 1, mm: 2 },
      { what: "rest", x: 352, width: 148, mm: 296 },
    ]);
  });

  test("used up exactly, the last cut is none; a knife takes nothing", () => {
    const all = barParts({ stock_mm: 1000, kerf_mm: 0, pieces_mm: [600, 400] }, 500);
    expect(all.map((part) => [part.what, part.width])).toEqual([
      ["piece", 300],
      ["piece", 200],
    ]);
    const short = barParts({ stock_mm: 1001, kerf_mm: 3, pieces_mm: [600, 397] }, 1001);
    expect(short.map((part) => [part.what, part.mm])).toEqual([
      ["piece", 600],
      ["kerf", 3],
      ["piece", 397],
      ["kerf", 1], // only 1 mm is left for a cut of 3: it falls away
    ]);
  });

  test("said", () => {
    expect(barFact({ bars: 2, pieces_mm: [620, 480, 350], rest_mm: 50 })).toBe(
      "2 bars: 620, 480, 350 mm; rest 50 mm each.",
    );
    expect(barFact({ bars: 1, pieces_mm: [315.9125], rest_mm: 0 })).toBe("1 bar: 315.9 mm; no rest.");
  });
});

describe("lift from above on the Bench", () => {
  test("the line round the places leaves out what is inside and what is on it", () => {
    expect(
      around([
        [0, 0],
        [2, 0],
        [1, 0],
        [1, 0.5],
        [2, 1],
        [0, 1],
      ]),
    ).toEqual([
      [0, 0],
      [2, 0],
      [2, 1],
      [0, 1],
    ]);
    expect(
      around([
        [1340, 0],
        [0, 0],
      ]),
    ).toEqual([
      [0, 0],
      [1340, 0],
    ]);
  });

  test("words in the unit wanted", () => {
    // 113.8 kg / 0.45359237 = 250.9 lb; 1340 mm / 25.4 = 52.76 in, a third 17.6 in: the bar is 10 in = 254 mm.
    const lb = { name: "lb", per: 1 / 0.45359237 };
    const inch = { name: "in", per: 1 / 25.4 };
    expect(said(113.84, KG)).toBe("113.8 kg");
    expect(said(113.8, lb)).toBe("250.9 lb");
    const bar = roundLength(1340, inch);
    expect([bar.words, bar.mm]).toEqual(["10 in", expect.closeTo(254, 6)]);
    expect(roundLength(1340, MM)).toEqual({ mm: 200, words: "20 cm" });
    const place = { id: "0", say: "near", x_mm: 0, y_mm: 0, nominal_kg: 113.8, worst_kg: 114.2 };
    expect(supportFact({ ...place, kind: "place" }, lb)).toBe("near: 250.9 lb, at worst 251.8.");
    expect(barFact({ bars: 2, pieces_mm: [254, 315.9125], rest_mm: 50.8 }, inch)).toBe(
      "2 bars: 10, 12.44 in; rest 2 in each.",
    );
    const fan = {
      name: "Fan",
      x: 0,
      y: 0,
      radius: 9,
      back: false,
      wrap_deg: 90,
      straight_mm: 254,
      warning: "",
    };
    expect(pulleyFact(fan, "crank", inch)).toBe("Fan: belt touches 90°, then 10 in to crank.");
  });

  test("a place has nobody's name", () => {
    const place = { id: "0", say: "1, near", x_mm: 0, y_mm: 0, nominal_kg: 113.8, worst_kg: 114.2 };
    expect(supportFact({ ...place, kind: "place" })).toBe("1, near: 113.8 kg, at worst 114.2.");
    expect(supportFact({ ...place, kind: "lifter" })).toBe("1, near: nobody yet, 113.8 kg, at worst 114.2.");
    expect(supportFact({ ...place, kind: "stand" })).toBe("1, near: stand, 113.8 kg, at worst 114.2.");
  });
});
