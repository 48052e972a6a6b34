import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { takeInMirror } from "../../src/app/mirror";
import { outbox } from "../../src/app/outbox";
import { build } from "../../src/app/session";
import { isUnder, peopleUnder } from "../../src/app/under";
import type { Waiting } from "../../src/local/store";
import type { SyncAnswer } from "../../src/wire/core";

let number = 0;

function said(by: string, kind: string, more: { person?: string; for_person?: string } = {}): Waiting {
  number += 1;
  const id = String(number);
  const { for_person, ...body } = more;
  const envelope = { id, kind, device_ms: number, body, ...(for_person ? { for_person } : {}) };
  return { id, build: "b", by, made_ms: number, state: "waiting", envelope };
}

build.value = { id: "b", name: "B", role: "builder" };
takeInMirror({
  head: { number: 1, digest: "d" },
  rows: [{ kind: "under", id: "bram", body: { id: "bram", since_ms: 1 } }],
} as unknown as SyncAnswer);

afterEach(() => {
  outbox.value = [];
});

it.each<[string, Waiting[], string[]]>([
  ["who the service knows of", [], ["bram"]],
  ["I'm out", [said("bram", "hazard.out")], []],
  ["out and under again", [said("bram", "hazard.out"), said("bram", "hazard.under")], ["bram"]],
  ["Bram is out, I looked", [said("aled", "hazard.out", { person: "bram" })], []],
  ["I'm under, beside Bram", [said("aled", "hazard.under")], ["bram", "aled"]],
  ["typed for Kofi", [said("aled", "hazard.under", { for_person: "kofi" })], ["bram", "kofi"]],
  ["another word of mine changes nothing", [said("bram", "task.take")], ["bram"]],
])("R27: %s", (_case, waiting, under) => {
  outbox.value = waiting;
  expect(peopleUnder()).toEqual(under);
  for (const person of ["bram", "aled", "kofi"]) expect(isUnder(person)).toBe(under.includes(person));
});
