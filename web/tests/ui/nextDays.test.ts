import { expect, test } from "vitest";
import { nextDays, withDay } from "../../src/ui/days/nextDays";

// Friday 27 November 2026; weekday 0 is Monday.
const TODAY = "2026-11-27";
const WEEK = {
  weekly: [
    { weekday: 5, begins: "10:00", ends: "17:00" },
    { weekday: 6, begins: "10:00", ends: "15:00" },
  ],
  exceptions: [],
};

test("the next days of the week, over the end of a month", () => {
  expect(nextDays(WEEK, TODAY, 4)).toEqual([
    { on: "2026-11-28", hours: "10:00 to 17:00", comes: true },
    { on: "2026-11-29", hours: "10:00 to 15:00", comes: true },
    { on: "2026-12-05", hours: "10:00 to 17:00", comes: true },
    { on: "2026-12-06", hours: "10:00 to 15:00", comes: true },
  ]);
  expect(nextDays({ weekly: [], exceptions: [] }, TODAY, 4)).toEqual([]);
});

test("a tap says no to one of them, another takes it back", () => {
  const no = withDay(WEEK, "2026-12-05", false);
  expect(no.exceptions).toEqual([{ on: "2026-12-05", comes: false }]);
  expect(nextDays(no, TODAY, 4).map((day) => day.comes)).toEqual([true, true, false, true]);
  expect(withDay(no, "2026-12-05", true)).toEqual(WEEK);
});

test("a day of which more was said is left to the single days", () => {
  const later = { on: "2026-11-28", comes: true, begins: "13:00", ends: "17:00" };
  const away = { on: "2026-11-29", comes: false, begins: "12:00", ends: "13:00" };
  const said = { ...WEEK, exceptions: [later, away] };
  expect(nextDays(said, TODAY, 2).map((day) => day.on)).toEqual(["2026-12-05", "2026-12-06"]);
});
