import "fake-indexeddb/auto";
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { isIn } from "../../src/app/presence";
import { link } from "../../src/sync/link";

interface Case {
  why: string;
  minutes: number | null;
  left: boolean;
  in: boolean;
}

const { cases } = JSON.parse(
  readFileSync(new URL("../../../tests/cases/who_is_in.json", import.meta.url), "utf8"),
) as { cases: Case[] };

const NOW_MS = 1_780_000_000_000;
const since = (minutes: number | null, now: number) => (minutes === null ? null : now - minutes * 60_000);

it.each(cases)("R28: $why", ({ minutes, left, in: here }) => {
  expect(isIn({ in_since_ms: since(minutes, NOW_MS), left }, NOW_MS)).toBe(here);
});

it("goes by the service's clock, not by this phone's", () => {
  const before = link.value;
  const yesterday = { in_since_ms: since(1_440, Date.now()), left: false };
  link.value = { ...before, offset_ms: -24 * 3_600_000 };
  expect(isIn(yesterday)).toBe(true);
  link.value = before;
  expect(isIn(yesterday)).toBe(false);
});
