import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { build, me, shutOut } from "../../src/app/session";
import { fetchAhead } from "../../src/app/views";
import { keptView } from "../../src/local/store";
import { link } from "../../src/sync/link";

const problem = { code: "signed_out", title: "t", status: 401, detail: "Signed out." };

function somebody(person: string): void {
  const known = { device: "d", device_shared: true, mode: "https", first_run: false, builds: [] } as const;
  me.value = { ...known, builds: [], person, name: person };
}

let answer: ((body: object) => void) | undefined;

beforeEach(() => {
  build.value = { id: "b1", name: "Quillback Two", role: "helper" };
  link.value = { ...link.value, up: true };
  shutOut.value = null;
  vi.stubGlobal("fetch", () => new Promise((done) => (answer = (body) => done(Response.json(body)))));
});
afterEach(() => vi.unstubAllGlobals());

/** Ask for a view as Aled; `meanwhile` happens before the answer is there. */
async function asked(path: string, meanwhile: () => void): Promise<unknown> {
  somebody("aled");
  const asking = fetchAhead("b1", [path]);
  await vi.waitUntil(() => answer);
  meanwhile();
  answer?.({ whose: "aled" });
  answer = undefined;
  await asking;
  return (await keptView(`b1${path}`))?.body;
}

it("an answer is kept for whoever asked, and not once somebody else is at the tablet, or nobody (R31)", async () => {
  expect(await asked("/queue", () => undefined)).toEqual({ whose: "aled" });
  expect(await asked("/lifts", () => somebody("bram"))).toBeUndefined();
  expect(
    await asked("/checks", () => {
      shutOut.value = problem;
    }),
  ).toBeUndefined();
});
