/** Words of the plan of the build days: what a new plan moves, what a time costs, how many ways out there are. */

import { some } from "../words/counts";

/** "2 changes, 1 stays as it is. 3 slip by less than a quarter of an hour." */
export function movesWords(changes: number, stays: number, shifted: number): string {
  const moves =
    changes === 0
      ? "Nothing moves."
      : `${some(changes, "change", "changes")}, ${some(stays, "stays as it is", "stay as they are")}.`;
  const slips = some(shifted, "slips", "slip");
  return shifted > 0 ? `${moves} ${slips} by less than a quarter of an hour.` : moves;
}

/** Against the plan that stands, in minutes of build days. */
export function costWords(minutes: number): string {
  if (minutes === 0) return "Costs the finish nothing.";
  const hours = Math.floor(Math.abs(minutes) / 60);
  const rest = Math.abs(minutes) % 60;
  const said = [hours ? `${hours} h` : "", rest ? `${rest} min` : ""].filter(Boolean).join(" ");
  return minutes > 0
    ? `Costs the finish ${said} of build days.`
    : `All is over ${said} of build days sooner.`;
}

/** "T5", "Check of T5"; where it stands at a hold step on the way: "T5 to its hold step", "Hold step of T5". */
export function pieceWords(task: string, check: boolean, step: string | null): string {
  if (step === null) return check ? `Check of ${task}` : task;
  return check ? `Hold step of ${task}` : `${task} to its hold step`;
}

/** Before the list of changes, of which each would do. */
export function waysWords(count: number): string {
  return count === 1 ? "One way:" : `${count} ways, each enough by itself:`;
}
