/**
 * A torque wrench in words: how often it was used, how far its nearest mark is off, where little is claimed for it.
 * An answer that this phone kept from before has no uses and no errors of marks: then nothing is said of them.
 */

import { lastDay } from "../words/times";
import { unitWord } from "../words/units";
import { type Pass, rounded, type WrenchFor } from "./seen";

/** "used 41 of 5000 times since its check"; null where it is not known. */
export function usesWords(one: Pick<WrenchFor, "uses" | "uses_allowed" | "until_ms">): string | null {
  if (one.uses === undefined) return null;
  if (!one.until_ms) return `used ${one.uses} times`;
  const said = `used ${one.uses} of ${one.uses_allowed} times since its check`;
  return one.uses >= one.uses_allowed ? `${said}: have it checked` : said;
}

/** "10 to 100 N·m, check due 3 Mar 2027, used 41 of 5000 times since its check" */
export function wrenchWords(one: WrenchFor): string {
  const range = `${one.lowest} to ${one.highest} ${unitWord(one.unit)}`;
  const due = one.until_ms ? `check due ${lastDay(one.until_ms)}` : null;
  return [range, due, usesWords(one)].filter((words) => words !== null).join(", ");
}

/** "2.7 % low" */
function offWords({ mark_error: error, mark_error_percent: percent }: Pass): string | null {
  if (error === "0") return "on the target";
  if (!error || !percent) return null;
  const size = percent === "0" ? "less than 0.1" : percent.replace("-", "");
  return `${size} % ${error.startsWith("-") ? "low" : "high"}`;
}

/** "Nearest mark inside the limits: 72 N·m, 2.7 % low." */
export function markWords(pass: Pass, unit: string): string {
  if (!pass.nearest_mark) return "The target is off this scale.";
  const off = offWords(pass);
  const mark = `${pass.nearest_mark} ${unitWord(unit)}${off ? `, ${off}` : ""}`;
  return pass.mark_inside
    ? `Nearest mark inside the limits: ${mark}.`
    : `No mark is inside the limits: the nearest is ${mark}. Take a finer scale.`;
}

/** An early pass may be made with any torque wrench that reaches down to it; null: this one does. */
export function offScaleWords(
  pass: Pass,
  one: Pick<WrenchFor, "wrench" | "lowest" | "highest" | "unit">,
): string | null {
  if (pass.nearest_mark) return null;
  const range = `${one.lowest} to ${one.highest} ${unitWord(one.unit)}`;
  return `${rounded(pass).target} ${unitWord(one.unit)} is off the scale of ${one.wrench}, ${range}. Take another torque wrench for pass ${pass.pass_no}.`;
}

/** Below a fifth of full scale a setting counts, and little is known of it. */
export function claimWords(from: string, unit: string): string {
  return `Below ${from} ${unitWord(unit)}, 20 % of full scale, the 2003 edition of ISO 6789 claims no accuracy. A range is judged by its marks here, as in ISO 6789-1:2017, so it counts. A smaller torque wrench is better.`;
}
