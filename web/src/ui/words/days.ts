/** Days in the crew's words. Dates and minutes come from the service, by the garage's clock. */

export const WEEKDAYS = [
  "Monday",
  "Tuesday",
  "Wednesday",
  "Thursday",
  "Friday",
  "Saturday",
  "Sunday",
] as const;

const whole = new Intl.DateTimeFormat(undefined, { weekday: "long", day: "numeric", month: "long" });

/** "Saturday 5 December", from an ISO date. */
export function dayWords(on: string): string {
  const [year = 0, month = 1, day = 1] = on.split("-").map(Number);
  return whole.format(new Date(year, month - 1, day));
}
