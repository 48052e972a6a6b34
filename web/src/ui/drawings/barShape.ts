/** A stock bar taken apart along its length: pieces, what the cutter turns to dust, and the rest. */

export interface BarPart {
  what: "piece" | "kerf" | "rest";
  x: number;
  width: number;
  mm: number;
}

/** Pieces from the left, a cut after each while there is bar left; `width` is the whole bar's in px. */
export function barParts(
  bar: { stock_mm: number; kerf_mm: number; pieces_mm: readonly number[] },
  width: number,
): readonly BarPart[] {
  const parts: BarPart[] = [];
  let at_mm = 0;
  const add = (what: BarPart["what"], mm: number): void => {
    const fits = Math.min(mm, bar.stock_mm - at_mm);
    if (fits <= 0) return;
    parts.push({ what, x: (at_mm / bar.stock_mm) * width, width: (fits / bar.stock_mm) * width, mm: fits });
    at_mm += fits;
  };
  for (const piece of bar.pieces_mm) {
    add("piece", piece);
    add("kerf", bar.kerf_mm);
  }
  add("rest", bar.stock_mm - at_mm);
  return parts;
}
