/** With how many figures an answer is written: as many as mean something. The exact value is the service's to give. */

import { type AskedFor, type Given, type Inputs, itemsOf, rowsOf, type Single } from "./inputs";

export interface Rounding {
  round: (value: number) => number;
  /** Exact decimals of the answer stay as they came: nothing in it is known as a range only. */
  exact: boolean;
}

/** As the pictures write them. */
const USUAL = 4;
const MOST = 6;

export const usual = to(USUAL);

/**
 * How the figures of an answer are rounded: to those that the calculation itself says mean something, else to as many as
 * the least exact figure typed has, four at least and six at most.
 */
export function rounding(
  one: { figures: number | null; inputs: readonly AskedFor[] },
  inputs: Inputs,
): Rounding {
  const { figures } = one;
  if (figures === null) return to(Math.min(Math.max(carried(one.inputs, inputs), USUAL), MOST));
  const round = (value: number) => Number(value.toPrecision(figures + (beginsWithOne(value) ? 1 : 0)));
  return { round, exact: false };
}

function to(figures: number): Rounding {
  return { round: (value) => Number(value.toPrecision(figures)), exact: true };
}

/** Two figures of 1.2 say no more than one of 8: then one more is written. */
function beginsWithOne(value: number): boolean {
  return Math.abs(value).toExponential().startsWith("1");
}

/** Figures of the least exact measure typed; counts and choices are exact. */
function carried(form: readonly AskedFor[], inputs: Inputs): number {
  const least = Math.min(...form.flatMap((asked) => typedIn(asked, inputs[asked.name])).map(significant));
  return Number.isFinite(least) ? least : USUAL;
}

function typedIn(asked: AskedFor, given: Given | undefined): readonly string[] {
  if (asked.kind === "rows")
    return rowsOf(given).flatMap((row) =>
      asked.columns.flatMap((column) => typedIn(column, row[column.name])),
    );
  if (asked.kind === "numbers") return itemsOf(given).map(figureOf);
  if (asked.kind !== "number" && asked.kind !== "exact") return [];
  return given === undefined || Array.isArray(given) ? [] : [figureOf(given as Single)];
}

function figureOf(given: Single): string {
  return typeof given === "object" ? given.value : String(given);
}

/** "0.050" has two; a fraction of an inch is exact, and so is what was not typed. */
function significant(typed: string): number {
  const digits = typed.trim().replace(/^-/, "").replace(/[.,]/, "").replace(/^0+/, "");
  return /^\d+$/.test(digits) ? digits.length : Number.POSITIVE_INFINITY;
}
