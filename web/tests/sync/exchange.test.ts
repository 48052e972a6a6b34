import "fake-indexeddb/auto";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { cursorOf, keep, mirrorOf, outbox } from "../../src/local/store";
import { exchange } from "../../src/sync/exchange";
import { link } from "../../src/sync/link";

interface Sent {
  cursor: { number: number } | null;
  commands: { id: string; kind: string }[];
}

let build = 0;
let sent: Sent[] = [];
let answers: (() => Response)[] = [];

function answer(outcomes: object[], number = 1, rows: object[] = []): () => Response {
  const body = { head: { number, digest: "d" }, forked: false, reset: false, outcomes, rows };
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
