import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { build, heardHead, openBuild } from "../../src/app/session";
import { keepView, keptView } from "../../src/local/store";
import { exchange } from "../../src/sync/exchange";

const answers: object[] = [];

beforeEach(() => {
  answers.length = 0;
  vi.stubGlobal("navigator", {});
  vi.stubGlobal("document", {
    visibilityState: "hidden",
    addEventListener: vi.fn(),
    removeEventListener: vi.fn(),
  });
  vi.stubGlobal("addEventListener", vi.fn());
  vi.stubGlobal("removeEventListener", vi.fn());
  vi.stubGlobal("fetch", async (path: string) => {
    if (path.endsWith("/people")) return Response.json([]);
    return Response.json(answers.shift() ?? answer(1));
  });
});
afterEach(() => vi.unstubAllGlobals());

function answer(number: number, more: object = {}): object {
  return { head: { number, digest: "d" }, forked: false, reset: false, outcomes: [], rows: [], ...more };
}

it("the head of one build says nothing of another's: what is shown of it is asked for anew with each of its own", async () => {
  heardHead.value = 5000;
  await openBuild({ id: "b2", name: "Another", role: "helper" });
  expect(heardHead.value).toBe(0);
});

it("a service that was put back counts from there: higher numbers, and what was prepared by them, are of a lost end", async () => {
  await openBuild({ id: "b3", name: "Quillback Two", role: "helper" });
  await keepView({ address: "b3/queue", etag: null, at_ms: 1, known: "120 0", body: {} });
  await keepView({ address: "b31/queue", etag: null, at_ms: 1, known: "120 0", body: {} });
  heardHead.value = 120;
  answers.push(answer(80, { forked: true, reset: true }), answer(80));
  await exchange("b3");
  expect(build.value?.id).toBe("b3");
  expect(heardHead.value).toBe(80);
  expect(await keptView("b3/queue")).toBeUndefined();
  expect(await keptView("b31/queue")).toBeDefined();
});
