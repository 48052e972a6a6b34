import "fake-indexeddb/auto";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import {
  cursorOf,
  forgetMirror,
  forgetOldKept,
  keep,
  mirrorOf,
  outbox,
  setFact,
} from "../../src/local/store";
import { hearClock, knownClock } from "../../src/sync/clock";
import { exchange } from "../../src/sync/exchange";
import { link } from "../../src/sync/link";

interface Sent {
  cursor: { number: number } | null;
  knew?: { number: number };
  commands: { id: string; kind: string }[];
}

let build = 0;
let sent: Sent[] = [];
let answers: (() => Response)[] = [];

function answer(outcomes: object[], number = 1, rows: object[] = [], more: object = {}): () => Response {
  const body = { head: { number, digest: "d" }, forked: false, reset: false, outcomes, rows, ...more };
  return () => new Response(JSON.stringify(body), { headers: { "Content-Type": "application/json" } });
}

async function waiting(id: string): Promise<void> {
  const envelope = { id, kind: "task.take", device_ms: 1, body: { task: "T1" } };
  await keep({ id, build: `b${build}`, envelope, made_ms: 1, state: "waiting" });
}

beforeEach(() => {
  build += 1;
  sent = [];
  answers = [];
  vi.stubGlobal("navigator", {});
  vi.stubGlobal("fetch", async (_path: string, asked: { body: string }) => {
    sent.push(JSON.parse(asked.body) as Sent);
    const next = answers.shift();
    if (!next) throw new TypeError("no network");
    return next();
  });
});
afterEach(() => vi.unstubAllGlobals());

describe("the outbox keeps until it is answered", () => {
  it("hands over in the order made, and forgets what was accepted", async () => {
    await waiting("01");
    await waiting("02");
    answers = [
      answer([
        { id: "01", status: "accepted" },
        { id: "02", status: "accepted" },
      ]),
    ];
    expect(await exchange(`b${build}`)).toBe(true);
    expect(sent[0]?.commands.map((one) => one.id)).toEqual(["01", "02"]);
    expect(await outbox(`b${build}`)).toEqual([]);
  });

  it("loses nothing when no answer comes, and sends the same id again (R3)", async () => {
    await waiting("03");
    expect(await exchange(`b${build}`)).toBe(false);
    expect(link.value.up).toBe(false);
    expect((await outbox(`b${build}`)).map((one) => one.state)).toEqual(["waiting"]);
    answers = [answer([{ id: "03", status: "accepted" }])];
    await exchange(`b${build}`);
    expect(sent.map((one) => one.commands[0]?.id)).toEqual(["03", "03"]);
  });

  it("keeps a refused one with its sentence until the person has looked (R4)", async () => {
    await waiting("04");
    answers = [
      answer([
        {
          id: "04",
          status: "refused",
          problem: { code: "taken_by", title: "t", status: 409, detail: "Aled took it." },
        },
      ]),
    ];
    await exchange(`b${build}`);
    const [left] = await outbox(`b${build}`);
    expect([left?.state, left?.problem?.detail]).toEqual(["refused", "Aled took it."]);
    answers = [answer([])];
    await exchange(`b${build}`);
    expect(sent[1]?.commands).toEqual([]);
  });

  it("a page that is not the service's is no answer", async () => {
    await waiting("05");
    answers = [() => new Response("<html>", { headers: { "Content-Type": "text/html" } })];
    expect(await exchange(`b${build}`)).toBe(false);
    expect(await outbox(`b${build}`)).toHaveLength(1);
  });

  it("takes rows and cursor in together; a row without a body goes", async () => {
    answers = [
      answer([], 7, [{ kind: "task", id: "T1", changed_at: 7, body: { id: "T1" } }]),
      answer([], 8, [{ kind: "task", id: "T1", changed_at: 8, body: null }]),
    ];
    await exchange(`b${build}`);
    expect((await mirrorOf(`b${build}`)).map((one) => one.id)).toEqual(["T1"]);
    expect((await cursorOf(`b${build}`))?.number).toBe(7);
    await exchange(`b${build}`);
    expect(await mirrorOf(`b${build}`)).toEqual([]);
    expect(sent[1]?.cursor?.number).toBe(7);
  });
});

/** An answer in which one command was not judged: outcome 500, as `routes/sync.py` gives it for code "fault". */
const fault = { code: "fault", title: "t", status: 500, detail: "The service broke down over this." };
const down = () =>
  new Response(JSON.stringify(fault), {
    status: 500,
    headers: { "Content-Type": "application/problem+json" },
  });

describe("what the service could not judge", () => {
  it("stays, is counted, is tried once in each exchange and goes when it can be judged", async () => {
    await waiting("10");
    await waiting("11");
    const answered = { id: "11", status: "accepted" };
    answers = [answer([{ id: "10", status: "refused", problem: fault }, answered])];
    expect(await exchange(`b${build}`)).toBe(true);
    answers = [answer([{ id: "10", status: "refused", problem: fault }])];
    await exchange(`b${build}`);
    const [left] = await outbox(`b${build}`);
    expect([left?.id, left?.state, left?.in_vain?.times, left?.in_vain?.problem?.code]).toEqual([
      "10",
      "waiting",
      2,
      "fault",
    ]);
    answers = [answer([{ id: "10", status: "accepted" }])];
    await exchange(`b${build}`);
    expect(await outbox(`b${build}`)).toEqual([]);
    expect(sent.map((one) => one.commands.length)).toEqual([2, 1, 1]);
  });

  it("holds up no other, also where the whole exchange fails over it", async () => {
    for (const id of ["20", "21", "22"]) await waiting(id);
    const taken = (id: string) => answer([{ id, status: "accepted" }]);
    answers = [down, taken("20"), down, taken("22"), answer([])];
    expect(await exchange(`b${build}`)).toBe(true);
    expect(sent.map((one) => one.commands.map(({ id }) => id).join())).toEqual([
      "20,21,22",
      "20",
      "21",
      "22",
      "",
    ]);
    expect((await outbox(`b${build}`)).map((one) => [one.id, one.in_vain?.times])).toEqual([["21", 1]]);
  });

  it("a service that takes nothing at all is as good as no connection, and nothing is lost", async () => {
    await waiting("30");
    answers = [down, down];
    expect(await exchange(`b${build}`)).toBe(false);
    expect(link.value.up).toBe(false);
    expect((await outbox(`b${build}`)).map((one) => one.in_vain?.times)).toEqual([1]);
  });

  it("no answer while there is a connection is counted; without one it explains itself", async () => {
    answers = [answer([])];
    await exchange(`b${build}`); // the connection is back
    await waiting("40");
    await exchange(`b${build}`);
    await exchange(`b${build}`);
    const [left] = await outbox(`b${build}`);
    expect([left?.in_vain?.times, left?.in_vain?.problem]).toEqual([1, undefined]);
  });

  it("what somebody else made at this phone waits until they are at it again", async () => {
    const envelope = { id: "50", kind: "task.take", device_ms: 1, body: { task: "T1" } };
    await keep({ id: "50", build: `b${build}`, by: "aled", envelope, made_ms: 1, state: "waiting" });
    await setFact("me", { person: "bram" });
    answers = [answer([]), answer([{ id: "50", status: "accepted" }])];
    await exchange(`b${build}`);
    await setFact("me", { person: "aled" });
    await exchange(`b${build}`);
    expect(sent.map((one) => one.commands.length)).toEqual([0, 1]);
  });
});

describe("app and service of different versions", () => {
  it("what an older service does not know waits, and goes once it does", async () => {
    await waiting("60");
    await waiting("61");
    const problem = {
      code: "other_version",
      title: "t",
      status: 501,
      detail: "This service does not know it.",
    };
    answers = [
      answer([
        { id: "60", status: "refused", problem },
        { id: "61", status: "accepted" },
      ]),
      answer([{ id: "60", status: "accepted" }]),
    ];
    expect(await exchange(`b${build}`)).toBe(true);
    expect((await outbox(`b${build}`)).map((one) => [one.id, one.state, one.in_vain?.problem?.code])).toEqual(
      [["60", "waiting", "other_version"]],
    );
    await exchange(`b${build}`);
    expect(sent.map((one) => one.commands.map(({ id }) => id).join())).toEqual(["60,61", "60"]);
    expect(await outbox(`b${build}`)).toEqual([]);
  });

  it("what a newer service says beside what this app knows is taken in, and loses nothing", async () => {
    for (const id of ["62", "63"]) await waiting(id);
    const problem = { code: "too_windy", title: "t", status: 409, detail: "Too windy.", gusts: 12 };
    const rows = [
      { kind: "weather", id: "W", changed_at: 3, body: { id: "W", gusts: 12 } },
      {
        kind: "task",
        id: "T1",
        changed_at: 3,
        body: { id: "T1", state: "postponed", forecast: {} },
        part: 1,
      },
    ];
    const outcomes = [
      { id: "62", status: "refused", problem },
      { id: "63", status: "accepted_for_now", until_ms: 4 },
    ];
    answers = [answer(outcomes, 3, rows, { weather: "windy" })];
    expect(await exchange(`b${build}`)).toBe(true);
    expect((await mirrorOf(`b${build}`)).map((one) => one.id)).toEqual(["T1", "W"]);
    expect((await outbox(`b${build}`)).map((one) => [one.id, one.problem?.detail])).toEqual([
      ["62", "Too windy."],
    ]);
    expect((await cursorOf(`b${build}`))?.number).toBe(3);
  });
});

const MONTH_MS = 30 * 24 * 3600_000;

/** Acknowledged before; then the service is put back to an earlier backup and does not know this phone's head. */
describe("a restored service, and a phone that is ahead of it", () => {
  const forked = () =>
    answer([], 5, [{ kind: "task", id: "T1", changed_at: 2, body: { id: "T1" } }], {
      forked: true,
      reset: true,
    });
  const accepted = (...ids: string[]) =>
    answer(
      ids.map((id) => ({ id, status: "accepted" })),
      9,
    );

  it("is offered again all it had acknowledged, in the order made, under the same ids, before what is new", async () => {
    for (const id of ["70", "71"]) {
      await waiting(id);
      answers = [accepted(id)];
      await exchange(`b${build}`);
    }
    await waiting("72");
    sent = [];
    answers = [forked(), accepted("70", "71", "72"), answer([], 9)];
    expect(await exchange(`b${build}`)).toBe(true);
    expect(sent.map((one) => one.commands.map(({ id }) => id).join())).toEqual(["72", "70,71,72"]);
    expect(await outbox(`b${build}`)).toEqual([]);
    expect((await mirrorOf(`b${build}`)).map((one) => one.id)).toEqual(["T1"]);
  });

  it("is offered nothing that it refused before, nothing of another build, nothing older than 30 days", async () => {
    for (const id of ["73", "74"]) await waiting(id);
    const problem = { code: "taken_by", title: "t", status: 409, detail: "Aled took it." };
    answers = [
      answer([
        { id: "73", status: "refused", problem },
        { id: "74", status: "accepted" },
      ]),
    ];
    await exchange(`b${build}`);
    await forgetOldKept(Date.now() + MONTH_MS + 1);
    await waiting("75");
    answers = [accepted("75")];
    await exchange(`b${build}`);
    build += 1;
    sent = [];
    answers = [forked(), answer([], 9)];
    await exchange(`b${build}`);
    build -= 1;
    answers = [forked(), accepted("75"), answer([], 9)];
    await exchange(`b${build}`);
    expect(sent.map((one) => one.commands.map(({ id }) => id).join())).toEqual(["", "", "", "75"]);
    expect((await outbox(`b${build}`)).map((one) => [one.id, one.state])).toEqual([["73", "refused"]]);
  });
});

/** Restored to before this phone was enrolled: it was put out, its rows went, and it was let in again. */
describe("a phone that was put out by a restored service, and let in again", () => {
  it("has no cursor, says what it knew, and offers again what it had acknowledged", async () => {
    await waiting("76");
    answers = [answer([{ id: "76", status: "accepted" }], 41)];
    await exchange(`b${build}`);
    await forgetMirror();
    expect(await cursorOf(`b${build}`)).toBeUndefined();
    sent = [];
    answers = [
      answer([], 5, [], { forked: true, reset: true }),
      answer([{ id: "76", status: "accepted" }], 6),
    ];
    expect(await exchange(`b${build}`)).toBe(true);
    expect(sent.map((one) => [one.cursor, one.knew, one.commands.map(({ id }) => id).join()])).toEqual([
      [null, { number: 41, digest: "d" }, ""],
      [{ number: 5, digest: "d" }, undefined, "76"],
    ]);
  });

  it("where the service has all, nothing is offered twice", async () => {
    await waiting("77");
    answers = [answer([{ id: "77", status: "accepted" }], 41)];
    await exchange(`b${build}`);
    await forgetMirror();
    sent = [];
    answers = [answer([], 42, [], { reset: true })];
    expect(await exchange(`b${build}`)).toBe(true);
    expect(sent.map((one) => one.commands.length)).toEqual([0]);
  });
});

it("an afternoon in the back corner goes in one exchange, so that what builds on a refused ask is one bundle (R4)", async () => {
  // 200: what `AT_ONCE` in api/yokemate/routes/sync.py takes.
  for (let number = 100; number < 301; number += 1) await waiting(`3${number}`);
  const all = (ids: string[]) => answer(ids.map((id) => ({ id, status: "accepted" })));
  answers = [all(Array.from({ length: 200 }, (_, at) => `3${100 + at}`)), all(["3300"])];
  expect(await exchange(`b${build}`)).toBe(true);
  expect(sent.map((one) => one.commands.length)).toEqual([200, 1]);
});

describe("the service's clock", () => {
  afterEach(() => {
    link.value = { ...link.value, offset_ms: 0 };
  });

  it("is learnt from each exchange, kept, and known again when the app opens without a signal (R11, R26)", async () => {
    const ahead_ms = 30 * 60_000;
    answers = [answer([], 1, [], { now_ms: Date.now() + ahead_ms })];
    await exchange(`b${build}`);
    expect(Math.abs(link.value.offset_ms - ahead_ms)).toBeLessThan(1_000);
    const learnt = link.value.offset_ms;
    link.value = { ...link.value, offset_ms: 0 };
    await knownClock();
    expect(link.value.offset_ms).toBe(learnt);
  });

  it("is not taken from an answer that was long on its way, nor from a service that does not say", async () => {
    await hearClock(Date.now() + 600_000, Date.now() - 3_000);
    answers = [answer([])];
    await exchange(`b${build}`);
    expect(link.value.offset_ms).toBe(0);
  });
});

it("STOP goes ahead of all that waits (R19)", async () => {
  for (let number = 10; number < 70; number += 1) await waiting(`1${number}`);
  const envelope = { id: "199", kind: "lift.stop", device_ms: 1, body: { lift: "L1" } };
  await keep({ id: "199", build: `b${build}`, envelope, made_ms: 1, state: "waiting" });
  answers = [answer([])];
  await exchange(`b${build}`);
  expect(sent[0]?.commands[0]?.kind).toBe("lift.stop");
});
