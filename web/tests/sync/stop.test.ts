import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { outbox } from "../../src/local/store";
import { goOn, sendStop } from "../../src/sync/stop";

let answers: number[] = [];
let build = 0;

beforeEach(() => {
  build += 1;
  vi.stubGlobal("fetch", async () => {
    const status = answers.shift();
    if (status === undefined) throw new TypeError("no network");
    const body = status === 200 ? {} : { code: "x", title: "t", status, detail: "No." };
    return new Response(JSON.stringify(body), { status, headers: { "Content-Type": "application/json" } });
  });
});
afterEach(() => vi.unstubAllGlobals());

it.each([
  ["no connection, then the service has it", [], [false, true]],
  ["not this phone: it has stopped nothing", [401, 200], [false, true]],
  ["no such place: it has stopped nothing", [404, 200], [false, true]],
  ["broken down over it", [500, 200], [false, true]],
  ["there is nothing to stop any more", [409], [true]],
])("goes on until the service has it: %s", async (_case, said, heard) => {
  answers = said;
  const tries: boolean[] = [];
  const stop = sendStop(`b${build}`, "L1", (sent) => tries.push(sent));
  await vi.waitFor(() => expect(tries.length).toBeGreaterThan(0));
  if (heard.length > 1) {
    expect((await outbox(`b${build}`)).map((one) => one.id)).toEqual([stop.id]);
    answers.push(200);
  }
  await stop.answered;
  expect(tries).toEqual(heard);
  expect(await outbox(`b${build}`)).toEqual([]);
});

it("goes on with what a page that is gone had pressed, under its own id", async () => {
  const tries: boolean[] = [];
  const sent: string[] = [];
  vi.stubGlobal("fetch", async (_path: string, asked: { body: string }) => {
    sent.push((JSON.parse(asked.body) as { id: string }).id);
    return new Response("{}", { headers: { "Content-Type": "application/json" } });
  });
  await goOn("b", "L1", "pressed-before", 1, (done) => tries.push(done)).answered;
  expect([sent, tries]).toEqual([["pressed-before"], [true]]);
});
