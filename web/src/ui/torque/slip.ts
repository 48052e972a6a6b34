/** Does a typed value look like a slip? Advice only: nothing is converted, everything may be written as read. */

import { compareDecimals, insideWindow } from "../../app/decimals";
import type { components } from "../../wire/schema";
import { unitWord } from "../words/units";

export interface Slip {
  how: "near" | "far";
  sentence: string;
  /** The unit that the torque wrench seems to read in. */
  otherUnit?: string | undefined;
}

interface Limits {
  target: string;
  low: string;
  high: string;
}

export interface SlipAsks extends Limits {
  /** The same for reading, where they are long. */
  rounded?: Limits | undefined;
  slips: components["schemas"]["Slips"];
}

/** `value` as typed, a plain decimal; `unit` of the scale that is read, or "deg". */
export function slipOf(value: string, asks: SlipAsks, unit: string): Slip | null {
  const { slips } = asks;
  if (insideWindow(value, asks.low, asks.high) || !slips) return null; // an answer kept from before has none
  const { target, low, high } = asks.rounded ?? asks;
  const word = unit === "deg" ? "degrees" : unitWord(unit);
  const alike = slips.looks_like.filter((one) => insideWindow(value, one.low, one.high));
  if (alike.length === 0 && insideWindow(value, slips.near_low, slips.near_high)) {
    const over = compareDecimals(value, asks.high) > 0;
    return { how: "near", sentence: over ? `${value} is over ${high}.` : `${value} is under ${low}.` };
  }
  const guesses = alike.map((one) =>
    one.unit ? `${value} ${unitWord(one.unit)} would be ${target} ${word}.` : "A digit too many or too few?",
  );
  const look = `Look at the ${unit === "deg" ? "angle gauge" : "torque wrench"}.`;
  return {
    how: "far",
    sentence: [`${value} is far from ${target} ${word}.`, ...guesses, look].join(" "),
    otherUnit: alike.find((one) => one.unit)?.unit ?? undefined,
  };
}
