import "fake-indexeddb/auto";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { isLifted, type Wanted } from "../../src/app/waits";

interface Case {
  why: string;
  waits: Pick<Wanted, "lifted_by">[];
  unsent: [string, Record<string, unknown>][];
  ready: boolean;
}

const { cases } = JSON.parse(
  readFileSync(new URL("../../../tests/cases/ready_once_handed_over.json", import.meta.url), "utf8"),
) as { cases: Case[] };

describe("R5: the phone crosses off what its own unsent work lifts, by the cases the service is held to", () => {
  it.each(cases)("$why", ({ waits, unsent, ready }) => {
    const said = unsent.map(([kind, body]) => ({ kind, body }));
    expect(waits.every((wait) => isLifted(wait, said))).toBe(ready);
  });

  it("has cases both ways", () => {
    expect(new Set(cases.map(({ ready }) => ready)).size).toBe(2);
  });
});
