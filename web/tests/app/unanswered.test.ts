import "fake-indexeddb/auto";
import { afterEach, expect, it, vi } from "vitest";
import { unanswered } from "../../src/app/outbox";
import { heard, silent } from "../../src/sync/link";

const MINUTE = 60_000;
const problem = { code: "fault", title: "", status: 500, detail: "", way_on: "" };

afterEach(() => vi.useRealTimers());

it.each([
  ["three tries over two minutes, connected", 3, 2, false, true, true],
  ["two tries, however long", 2, 60, false, true, false],
  ["many tries within a minute", 9, 1, false, true, false],
  ["without a connection that explains itself", 9, 60, false, false, false],
  ["without a connection, but the service had said so", 9, 60, true, false, true],
])("the person is told: %s", (_case, times, minutes, said, up, told) => {
  vi.useFakeTimers({ now: 1_795_600_000_000 });
  if (up) heard();
  else silent();
  const in_vain = { times, since_ms: Date.now() - minutes * MINUTE, ...(said ? { problem } : {}) };
  expect(unanswered({ state: "waiting", in_vain })).toBe(told);
});

it("what a service of another version does not know is told after the first try", () => {
  const in_vain = {
    times: 1,
    since_ms: Date.now(),
    problem: { ...problem, status: 501, code: "other_version" },
  };
  expect(unanswered({ state: "waiting", in_vain })).toBe(true);
});
