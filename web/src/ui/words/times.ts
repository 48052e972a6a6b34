/** Moments and spans in the crew's words, in this phone's own time zone and locale. */

/** As the service's sentences and the record have it, whatever the phone's locale: one screen, one clock. */
const HOURS = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" } as const;
const clock = new Intl.DateTimeFormat(undefined, HOURS);
const day = new Intl.DateTimeFormat(undefined, { weekday: "short", day: "numeric", month: "short" });

/** "14:06" today, "Tue 24 Nov, 14:06" on another day. */
export function moment(ms: number, now: number = Date.now()): string {
  const there = new Date(ms);
  const same = there.toDateString() === new Date(now).toDateString();
  return same ? clock.format(there) : `${day.format(there)}, ${clock.format(there)}`;
}

const ofDay = new Intl.DateTimeFormat(undefined, { ...HOURS, timeZone: "UTC" });

/** "09:10": minutes after midnight on the garage's clock, whatever zone this phone is in. */
export function timeOfDay(minutes: number): string {
  return ofDay.format(minutes * 60_000);
}

const dated = new Intl.DateTimeFormat(undefined, {
  day: "numeric",
  month: "short",
  year: "numeric",
  timeZone: "UTC",
});

/** "26 Nov 2026": the last day of what holds until the end (UTC) of a day, such as a torque wrench's check. */
export function lastDay(untilMs: number): string {
  return dated.format(untilMs - 1);
}

/** "14:06:31", for STOP. */
export function toTheSecond(ms: number): string {
  return new Date(ms).toLocaleTimeString(undefined, { ...HOURS, second: "2-digit" });
}

/** "2 min", "3 h", "4 days": how old something is. */
export function age(ms: number): string {
  const minutes = Math.max(0, Math.round(ms / 60_000));
  if (minutes < 1) return "less than a minute";
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} h` : `${Math.round(hours / 24)} days`;
}
