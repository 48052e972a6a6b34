import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it } from "vitest";
import { keepPicture, lookAtPicture, picturesTake } from "../../src/local/pictures";
import { forgetMirror, keepPayload, keptView, payloadAddress, takeIn } from "../../src/local/store";

const kilo = { kind: "image/jpeg", bytes: new Uint8Array(1000).buffer };

async function kept(sha256: string, seen_ms: number, payload = `of-${sha256}`): Promise<boolean> {
  await keepPayload("b1", payload, { photo: sha256 });
  return keepPicture("b1", payload, sha256, kilo, seen_ms, 3500);
}

async function withdrawn(payload: string): Promise<void> {
  const body = { id: payload, reason: "other", by: "ines", at_ms: 1 };
  const row = { kind: "withdrawal", id: payload, changed_at: 9, body };
  await takeIn("b1", { rows: [row], reset: false, head: { number: 9, digest: "d" }, answered: [] });
}

const there = async (...names: string[]) => {
  const found = await Promise.all(names.map((name) => lookAtPicture("b1", name, 999)));
  return names.filter((_, index) => found[index] !== undefined);
};

beforeEach(forgetMirror);

describe("photos of the record on this phone", () => {
  it("stay within their budget: the one not looked at for longest goes first", async () => {
    await kept("a", 1);
    await kept("b", 2);
    await kept("c", 3);
    await lookAtPicture("b1", "a", 4); // so that b is the oldest
    await kept("d", 5);
    expect(await picturesTake()).toEqual({ count: 3, bytes: 3000 });
    expect(await there("a", "b", "c", "d")).toEqual(["a", "c", "d"]);
  });

  it("go with the exchange that tells of their withdrawal, words too; the others stay (R1)", async () => {
    await kept("a", 1);
    await kept("b", 2);
    await keepPayload("b1", "words", { text: "private" });
    await withdrawn("of-a");
    await withdrawn("words");
    expect(await there("a", "b")).toEqual(["b"]);
    expect(await keptView(payloadAddress("b1", "words"))).toBeUndefined();
  });

  it("are not kept when the answer comes after the withdrawal (R1)", async () => {
    await withdrawn("of-a");
    expect(await kept("a", 1)).toBe(false);
    expect(await there("a")).toEqual([]);
    expect(await keptView(payloadAddress("b1", "of-a"))).toBeUndefined();
  });

  it("all go when somebody else is at the phone, or nobody any more (R31)", async () => {
    await kept("a", 1);
    await forgetMirror();
    expect(await there("a")).toEqual([]);
    expect(await picturesTake()).toEqual({ count: 0, bytes: 0 });
  });
});
