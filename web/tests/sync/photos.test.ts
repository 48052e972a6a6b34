import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { keepPhoto, letPhotoGo, photos, type WaitingPhoto } from "../../src/local/photos";
import { sendPhotos } from "../../src/sync/photos";

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
