import { expect, it } from "vitest";
import { isLive, type LiftRow } from "../../src/ui/lift/live";

const now = Date.now();
const pair = (ago_ms: number) => ({ by: "bram", at_ms: now - ago_ms });
const ticked = { roll: { front: { person: "bram", at_ms: now } } };

/** R19: STOP stands on every screen of everyone in a lift that is being called by roll, or is up. */
it.each<[string, object, boolean]>([
  ["not called", { state: "drafted" }, false],
  ["called", { state: "called" }, false],
  ["every place taken, the roll not begun", { state: "crewed", roll: {} }, false],
  ["the roll being called", { state: "crewed", ...ticked }, true],
  ["the floor said clear, no name read yet", { state: "crewed", roll: {}, floor_ms: now }, true],
  ["a place given up in the middle of the roll", { state: "called", ...ticked }, false],
  ["in place", { state: "in_place", ...ticked }, true],
  ["lifting", { state: "lifting" }, true],
  ["held", { state: "held" }, true],
  ["set down a moment ago", { state: "lifting", set_down: pair(60_000) }, true],
  ["set down eleven minutes ago", { state: "lifting", set_down: pair(660_000) }, false],
  ["reported by voice: it is over", { state: "lifting", by_voice: true, set_down: pair(60_000) }, false],
  ["reported by voice and then stopped", { state: "held", by_voice: true, set_down: null }, true],
  ["landed", { state: "landed" }, false],
])("%s", (_, row, live) => {
  expect(isLive(row as LiftRow)).toBe(live);
});
