import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { outbox } from "../../src/app/outbox";
import { build } from "../../src/app/session";
import type { Waiting } from "../../src/local/store";
import { stepsOf, type TaskRow } from "../../src/ui/task/progress";

const GAP = {
  id: "m",
  say: "Gap",
  kind: "measure",
  measure: { say: "gap", unit: "mm", low: "0.9", high: "1.1" },
};
const LAST = { id: "s2", say: "Close it", kind: "plain" };

function task(measured: { value: string; inside: boolean }[] = [], ticks: object = {}): TaskRow {
  const measures = { m: measured.map((one) => ({ unit: "mm", by: "bram", at_ms: 1, ...one })) };
  return { id: "T1", plan: { steps: [GAP, LAST] }, ticks, measures } as unknown as TaskRow;
}

function say(kind: string, body: object): void {
  const made_ms = outbox.value.length + 1;
  const envelope = { id: String(made_ms), kind, device_ms: made_ms, body: { task: "T1", ...body } };
  const one: Waiting = { id: envelope.id, build: "b", by: "bram", made_ms, state: "waiting", envelope };
  outbox.value = [...outbox.value, one];
}

const states = (row: TaskRow) => stepsOf(row).map((one) => one.state);
const measure = (value: string) => say("task.measure", { step: "m", value, unit: "mm" });
const differently = (more: object = {}) => say("deviation.propose", { step: "m", leave_out: false, ...more });

afterEach(() => {
  outbox.value = [];
  build.value = null;
});

it("a measure outside that is said here to be done differently lets the work go on (R9)", () => {
  build.value = { id: "b", name: "Quillback Two", role: "builder" };
  differently();
  expect(states(task())).toEqual(["current", "to_do"]); // nothing was measured yet
  measure("1.2");
  expect(states(task())).toEqual(["current", "to_do"]);
  differently();
  expect(states(task())).toEqual(["done", "current"]);
  measure("1.3");
  expect(states(task())).toEqual(["current", "to_do"]);
  outbox.value = [];
  const outside = task([{ value: "1.2", inside: false }]);
  expect(states(outside)).toEqual(["current", "to_do"]);
  differently();
  expect(states(outside)).toEqual(["done", "current"]);
  expect(stepsOf(outside)[0]?.value).toBe("1.2");
});

it("a step left out on this phone is crossed out before the service has heard of it", () => {
  build.value = { id: "b", name: "Quillback Two", role: "builder" };
  differently({ leave_out: true });
  expect(states(task())).toEqual(["left_out", "current"]);
});
