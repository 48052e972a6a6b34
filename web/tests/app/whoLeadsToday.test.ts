import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { takeInMirror } from "../../src/app/mirror";
import { iLeadToday, leadsToday, me } from "../../src/app/session";
import type { SyncAnswer } from "../../src/wire/core";

const HOUR = 3_600_000;

it.each([
  ["a lead", "lead", null, true],
  ["a builder", "builder", null, false],
  ["a builder who is the day's deputy", "builder", HOUR, true],
  ["a builder whose day as deputy is over", "builder", -HOUR, false],
  ["a deputy who was made a viewer since", "viewer", HOUR, false],
])("R30: what a lead or the day's deputy decides is offered to %s", (_who, role, left, offered) => {
  const deputy_until_ms = left === null ? null : Date.now() + left;
  me.value = { person: "aled" } as typeof me.value;
  takeInMirror({
    head: { number: 1, digest: "d" },
    rows: [{ kind: "member", id: "aled", body: { id: "aled", role, deputy_until_ms } }],
  } as unknown as SyncAnswer);
  expect(iLeadToday()).toBe(offered);
  me.value = { person: "sam" } as typeof me.value; // Sam types for Aled: judged by whose act it is
  expect(leadsToday("aled")).toBe(offered);
  expect(iLeadToday()).toBe(false);
});
