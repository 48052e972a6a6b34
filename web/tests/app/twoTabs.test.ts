import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";

interface Sent {
  cursor: { number: number } | null;
}

const BUILD = { id: "b1", name: "Hare", role: "lead" };
let number = 0;

/** A tab of its own: its memory is apart, what the phone keeps is shared. */
async function tab() {
  vi.resetModules();
  const { takeInAnswers } = await import("../../src/app/answers");
  const { rows } = await import("../../src/app/mirror");
  const session = await import("../../src/app/session");
  const { exchange } = await import("../../src/sync/exchange");
  session.build.value = BUILD;
  takeInAnswers();
  const tasks = () => [...rows("task").entries()].map(([id, row]) => `${id} ${row.state}`);
  return { exchange: () => exchange(BUILD.id), tasks };
}

/** The service: task T1 is changed by each entry; it answers with the row where the asker has not seen the newest. */
beforeEach(() => {
  vi.stubGlobal("navigator", {});
  vi.stubGlobal("fetch", async (path: string, asked: { body: string }) => {
    if (!path.endsWith("/sync")) throw new TypeError("no network");
    const { cursor } = JSON.parse(asked.body) as Sent;
    const row = { kind: "task", id: "T1", changed_at: number, body: { state: `state-${number}` } };
    const rows = (cursor?.number ?? 0) < number ? [row] : [];
    const body = {
      head: { number, digest: `d${number}` },
      forked: false,
      reset: false,
      outcomes: [],
      rows,
    };
    return new Response(JSON.stringify(body), { headers: { "Content-Type": "application/json" } });
  });
});
afterEach(() => vi.unstubAllGlobals());

it("shows in one tab what another tab fetched", async () => {
  const left = await tab();
  const right = await tab();
  number = 1;
  await left.exchange();
  number = 2;
  await right.exchange();
  expect(right.tasks()).toEqual(["T1 state-2"]);
  expect(left.tasks()).toEqual(["T1 state-1"]);

  await left.exchange(); // from 2, which the right one stored: nothing comes with it

  expect(left.tasks()).toEqual(["T1 state-2"]);
});
