import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { keepPhoto, letPhotoGo, photos, type WaitingPhoto } from "../../src/local/photos";
import { letSentGo, photoSent, sentPhotos, sentPhotosTake } from "../../src/local/sentPhotos";
import { takeIn } from "../../src/local/store";
import { askAboutSent, sendPhotos } from "../../src/sync/photos";

const sent: { path: string; kind: string; size: number }[] = [];

function answers(...given: (Response | Error)[]): void {
  vi.stubGlobal("fetch", async (path: string, asked: RequestInit) => {
    const headers = asked.headers as Record<string, string>;
    const bytes = asked.body as ArrayBuffer;
    sent.push({ path, kind: headers["Content-Type"] ?? "", size: bytes.byteLength });
    const answer = given.shift() ?? Response.json({ sha256: "x", new: true });
    if (answer instanceof Error) throw answer;
    return answer;
  });
}

function problem(status: number, code: string): Response {
  return Response.json({ code, title: "", status, detail: code, way_on: "" }, { status });
}

async function waits(sha256: string, more: Partial<WaitingPhoto> = {}): Promise<void> {
  const bytes = new Uint8Array([1, 2, 3]).buffer;
  await keepPhoto({ sha256, build: "b1", kind: "image/jpeg", bytes, made_ms: 5, state: "waiting", ...more });
}

beforeEach(async () => {
  sent.length = 0;
  for (const one of await photos()) await letPhotoGo(one.build, one.sha256);
  for (const sha256 of await sentPhotos("b1")) await letSentGo("b1", sha256);
});

describe("photos are handed over", () => {
  it("oldest first, of this build only, and gone once the service has them", async () => {
    await waits("aa", { made_ms: 9 });
    await waits("bb", { made_ms: 3 });
    await waits("cc", { build: "b2" });
    answers();
    const heard = vi.fn();
    await sendPhotos("b1", heard);
    expect(sent).toEqual([
      { path: "/api/builds/b1/photos/bb", kind: "image/jpeg", size: 3 },
      { path: "/api/builds/b1/photos/aa", kind: "image/jpeg", size: 3 },
    ]);
    expect((await photos()).map((one) => one.sha256)).toEqual(["cc"]);
    expect(heard).toHaveBeenCalledTimes(2);
  });

  it("and stay, all of them, when no answer comes", async () => {
    await waits("aa");
    await waits("bb");
    answers(new TypeError("no network"));
    await sendPhotos("b1", () => undefined);
    expect(sent).toHaveLength(1);
    expect((await photos()).map((one) => one.state)).toEqual(["waiting", "waiting"]);
  });

  it("one refused stays with its reason and is not sent again; the next one goes on", async () => {
    await waits("aa", { made_ms: 1 });
    await waits("bb", { made_ms: 2 });
    answers(problem(422, "photo_too_large"));
    await sendPhotos("b1", () => undefined);
    const left = await photos();
    expect(left.map((one) => [one.sha256, one.state, one.problem?.code])).toEqual([
      ["aa", "refused", "photo_too_large"],
    ]);
    await sendPhotos("b1", () => undefined);
    expect(sent).toHaveLength(2);
  });

  it("one that was withdrawn meanwhile goes from this phone too (R1)", async () => {
    await waits("aa");
    answers(problem(410, "withdrawn"));
    await sendPhotos("b1", () => undefined);
    expect(await photos()).toEqual([]);
  });

  it("one that a proxy finds too large waits, is told of, and holds up no other", async () => {
    await waits("aa", { made_ms: 1 });
    await waits("bb", { made_ms: 2 });
    answers(new Response("<html>", { status: 413, headers: { "Content-Type": "text/html" } }));
    await sendPhotos("b1", () => undefined);
    expect((await photos()).map((one) => [one.sha256, one.state, one.in_vain?.problem?.code])).toEqual([
      ["aa", "waiting", "too_large_on_the_way"],
    ]);
    expect(sent).toHaveLength(2);
  });

  it("a 401 says nothing about the photo: it waits", async () => {
    await waits("aa");
    answers(problem(401, "signed_out"));
    await sendPhotos("b1", () => undefined);
    expect((await photos()).map((one) => [one.state, one.in_vain])).toEqual([["waiting", undefined]]);
  });

  it("one that the service breaks down over waits, is counted, and holds up no other", async () => {
    await waits("aa", { made_ms: 1 });
    await waits("bb", { made_ms: 2 });
    answers(problem(500, "fault"));
    await sendPhotos("b1", () => undefined);
    expect((await photos()).map((one) => [one.sha256, one.state, one.in_vain?.times])).toEqual([
      ["aa", "waiting", 1],
    ]);
  });
});

/** What the service has, this phone keeps for a while: a backup may be put back that was made before. */
describe("photos that were sent", () => {
  const told = (number: number, more: { forked?: boolean; withdrawn?: string }) => {
    const body = { id: more.withdrawn, reason: "other", by: "ines", at_ms: 1 };
    const row = { kind: "withdrawal", id: more.withdrawn ?? "", changed_at: number, body };
    return takeIn("b1", {
      rows: more.withdrawn ? [row] : [],
      reset: false,
      head: { number, digest: "d" },
      forked: more.forked ?? false,
      answered: [],
    });
  };
  const asked: string[] = [];

  function says(of: Record<string, Response>): void {
    asked.length = 0;
    vi.stubGlobal("fetch", async (path: string, { method, headers }: RequestInit) => {
      const sha256 = path.split("/").at(-1) ?? "";
      asked.push(`${method} ${sha256} ${(headers as Record<string, string>)["If-None-Match"]}`);
      return of[sha256] ?? new Response(null, { status: 304 });
    });
  }

  it("wait again where a service that was put back lacks them, whose they are included", async () => {
    for (const sha256 of ["aa", "bb"]) await waits(sha256, { by: "aled" });
    vi.stubGlobal("fetch", async () => Response.json({ sha256: "x", new: true }));
    await sendPhotos("b1", () => undefined);
    for (const sha256 of ["aa", "bb"]) await photoSent("b1", sha256);
    expect((await sentPhotos("b1")).sort()).toEqual(["aa", "bb"]);
    says({ aa: problem(404, "not_sent_yet") });
    expect(await askAboutSent("b1")).toBe(false); // nothing was put back
    expect(asked).toEqual([]);

    await told(4, { forked: true });
    expect(await askAboutSent("b1")).toBe(true);
    expect(asked).toEqual([`GET aa "aa"`, `GET bb "bb"`]);
    const again = await photos();
    expect(again.map((one) => [one.sha256, one.state, one.by, one.bytes.byteLength])).toEqual([
      ["aa", "waiting", "aled", 3],
    ]);
    expect(await sentPhotos("b1")).toEqual(["bb"]);
    expect(await askAboutSent("b1")).toBe(false); // asked once
    expect(asked).toHaveLength(2);
  });

  it("go with a withdrawal, though this phone never asked which photo it was about (R1)", async () => {
    for (const sha256 of ["aa", "bb"]) {
      await waits(sha256);
      await photoSent("b1", sha256);
    }
    await told(5, { withdrawn: "payload-of-aa" });
    vi.stubGlobal("fetch", async () => Promise.reject(new TypeError("no network")));
    expect(await askAboutSent("b1")).toBe(false);
    expect(await sentPhotos("b1")).toHaveLength(2); // asked again when there is a connection
    says({ aa: problem(410, "withdrawn") });
    await askAboutSent("b1");
    expect(await sentPhotos("b1")).toEqual(["bb"]);
  });

  it("stay within their budget and for 30 days: the ones sent longest ago go first", async () => {
    const month_ms = 30 * 24 * 3600_000;
    for (const [at, sha256] of ["aa", "bb", "cc"].entries()) {
      await waits(sha256);
      await photoSent("b1", sha256, at, 6); // three bytes each
    }
    expect((await sentPhotos("b1")).sort()).toEqual(["bb", "cc"]);
    expect(await sentPhotosTake()).toEqual({ count: 2, bytes: 6 });
    await waits("dd");
    await photoSent("b1", "dd", month_ms + 2, 100);
    expect((await sentPhotos("b1")).sort()).toEqual(["cc", "dd"]);
  });
});
