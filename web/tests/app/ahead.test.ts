import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { head } from "../../src/app/mirror";
import { build } from "../../src/app/session";
import { fetchAhead } from "../../src/app/views";
import { keptView } from "../../src/local/store";
import { heard, silent } from "../../src/sync/link";

const MINUTE = 60_000;
let asked: string[] = [];
let says: Record<string, object> = {};

/** The service: an answer is as it was (304) where the asker has it already. */
beforeEach(() => {
  asked = [];
  says = { "/queue": { n: 1 }, "/plan": { n: 1 } };
  build.value = { id: `b${Math.random()}`, name: "Hare", role: "lead" };
  head.value = { number: 7, digest: "d" };
  heard();
  vi.useFakeTimers({ now: 1_795_600_000_000, toFake: ["Date"] });
  vi.stubGlobal("fetch", async (path: string, { headers }: { headers: Record<string, string> }) => {
    const place = path.slice(path.lastIndexOf("/"));
    const etag = JSON.stringify(JSON.stringify(says[place]));
    const same = headers["If-None-Match"] === etag;
    asked.push(`${place}${same ? " same" : ""}`);
    if (same) return new Response(null, { status: 304 });
    const json = { "Content-Type": "application/json", ETag: etag };
    return new Response(JSON.stringify(says[place]), { headers: json });
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const here = () => build.value?.id ?? "";
const ahead = () => fetchAhead(here(), ["/queue", "/plan"]);
const kept = async (path: string) => (await keptView(`${here()}${path}`)) ?? { body: null, at_ms: 0 };

it("fetches what this phone never had, once", async () => {
  expect(await ahead()).toBe(true);
  expect(await ahead()).toBe(true);
  expect(asked).toEqual(["/queue", "/plan"]);
});

it("fetches anew what may have changed since the head moved, a minute after it was fetched", async () => {
  await ahead();
  head.value = { number: 8, digest: "e" };
  says["/plan"] = { n: 2 };
  expect(await ahead()).toBe(false); // due, and not yet
  expect(asked).toEqual(["/queue", "/plan"]);
  vi.setSystemTime(Date.now() + MINUTE);
  expect(await ahead()).toBe(true);
  expect(asked.slice(2)).toEqual(["/queue same", "/plan"]);
  expect((await kept("/plan")).body).toEqual({ n: 2 });
  expect((await kept("/queue")).at_ms).toBe(Date.now()); // as of now, though nothing in it changed
  expect(await ahead()).toBe(true);
  expect(asked).toHaveLength(4);
});

it("fetches anew what is over by itself", async () => {
  says["/queue"] = { n: 1, valid_until_ms: Date.now() + MINUTE };
  await ahead();
  vi.setSystemTime(Date.now() + MINUTE);
  await ahead();
  expect(asked).toEqual(["/queue", "/plan", "/queue same"]);
});

it("asks nothing without a connection", async () => {
  silent();
  await ahead();
  expect(asked).toEqual([]);
});
