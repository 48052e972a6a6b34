import { expect, it } from "vitest";
import { takeInMirror } from "../../src/app/mirror";
import { me } from "../../src/app/session";
import { callsForMe } from "../../src/ui/calls";
import type { SyncAnswer } from "../../src/wire/core";

const called = (id: string, when_ms: number, more: object = {}) => ({
  kind: "lift",
  id,
  changed_at: 1,
  body: { id, state: "called", when_ms, round: 1, plan: { title: id, supports: [], caller: true }, ...more },
});

it("R18: what is up comes first, then the lift that is called for the nearest hour", () => {
  me.value = { person: "bram" } as unknown as NonNullable<typeof me.value>;
  takeInMirror({
    head: { number: 1, digest: "d" },
    rows: [
      { kind: "member", id: "bram", changed_at: 1, body: { id: "bram", role: "builder" } },
      called("later", Date.now() + 7_200_000),
      called("sooner", Date.now() + 600_000),
      called("up", Date.now() + 3_600_000, { state: "lifting" }),
    ],
  } as unknown as SyncAnswer);
  expect(callsForMe().map((one) => one.href)).toEqual(["/lifts/up", "/lifts/sooner", "/lifts/later"]);
});
