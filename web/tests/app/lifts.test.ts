import { beforeEach, expect, it } from "vitest";
import { isDown, isLanded } from "../../src/app/lifts";
import { takeInMirror } from "../../src/app/mirror";
import { outbox } from "../../src/app/outbox";
import { build } from "../../src/app/session";

function lift(more: object): void {
  takeInMirror({
    head: { number: 1, digest: "d" },
    forked: false,
    reset: true,
    outcomes: [],
    rows: [{ kind: "lift", id: "L1", changed_at: 1, body: { id: "L1", set_down: null, ...more } }],
  });
}

function said(kind: string, of = "L1"): void {
  const envelope = { id: kind, kind, device_ms: 1, body: { lift: of } };
  outbox.value = [{ id: kind, build: "b1", envelope, made_ms: 1, state: "waiting" }];
}

beforeEach(() => {
  build.value = { id: "b1", name: "Quillback Two", role: "helper" };
  outbox.value = [];
});

it("reported here as down, by voice or by its caller, lets its step go before it is handed over (R18, R22)", () => {
  lift({ state: "called" });
  expect(isDown("L1")).toBe(false);
  for (const kind of ["lift.report_by_voice", "lift.set_down"]) {
    said(kind);
    expect(isDown("L1")).toBe(true);
    expect(isLanded("L1")).toBe(false); // one more who was there signs
  }
  said("lift.report_by_voice", "L2");
  expect(isDown("L1")).toBe(false);
  said("lift.stand_down");
  expect(isDown("L1")).toBe(false);
});

it("down as the service has it; landed once one more signed, here or there (R22)", () => {
  lift({ state: "lifting", set_down: { by: "sofia", at_ms: 2 } });
  expect([isDown("L1"), isLanded("L1")]).toEqual([true, false]);
  said("lift.sign_landed");
  expect(isLanded("L1")).toBe(true);
  outbox.value = [];
  lift({ state: "landed" });
  expect([isDown("L1"), isLanded("L1")]).toEqual([true, true]);
});
