/** The next days on which somebody comes by their week, so that one of them is cancelled with a tap. */

import type { components } from "../../wire/schema";

type Hours = components["schemas"]["Hours"];

export interface NextDay {
  /** ISO date, as the garage has it. */
  on: string;
  /** "10:00 to 17:00" */
  hours: string;
  comes: boolean;
}

const AHEAD = 28;

/** The first few days from today on whose weekday they come. Days of which more than a plain no was said stand among the single days. */
export function nextDays(hours: Hours, today: string, most: number): NextDay[] {
  const [year = 0, month = 1, day = 1] = today.split("-").map(Number);
  const found: NextDay[] = [];
  for (let n = 0; n < AHEAD && found.length < most; n++) {
    const date = new Date(Date.UTC(year, month - 1, day + n));
    const on = date.toISOString().slice(0, 10);
    const weekday = (date.getUTCDay() + 6) % 7;
    const mine = (hours.weekly ?? []).filter((one) => one.weekday === weekday);
    const said = (hours.exceptions ?? []).filter((one) => one.on === on);
    if (mine.length === 0 || said.some((one) => !isPlainNo(one))) continue;
    const stretches = mine.map((one) => `${one.begins} to ${one.ends}`);
    found.push({ on, hours: stretches.join(", "), comes: said.length === 0 });
  }
  return found;
}

function isPlainNo(one: { comes: boolean; begins?: string | null; ends?: string | null }): boolean {
  return !one.comes && !one.begins;
}

/** The same hours, but for one day. */
export function withDay(hours: Hours, on: string, comes: boolean): Hours {
  const rest = (hours.exceptions ?? []).filter((one) => one.on !== on);
  const exceptions = comes ? rest : [...rest, { on, comes: false }].sort((a, b) => a.on.localeCompare(b.on));
  return { ...hours, exceptions };
}
