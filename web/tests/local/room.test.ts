import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { database } from "../../src/local/database";
import { keepPicture, picturesTake } from "../../src/local/pictures";
import { ifRoom, surely } from "../../src/local/room";
import { forgetMirror, keep, keepPayload, outbox } from "../../src/local/store";

const full = () => Promise.reject(new DOMException("no room", "QuotaExceededError"));

beforeEach(forgetMirror);

describe("a phone that can not store at the first try", () => {
  it("gives up what the service has too, and keeps what only it has", async () => {
    await keepPayload("b1", "P", { photo: "aa" });
    await keepPicture("b1", "P", "aa", { kind: "image/jpeg", bytes: new Uint8Array(9).buffer });
    const work = vi.fn<() => Promise<string>>().mockImplementationOnce(full).mockResolvedValueOnce("kept");
    expect(await surely(work)).toBe("kept");
    expect(await picturesTake()).toEqual({ count: 0, bytes: 0 });
  });

  it("whose browser closed the database behind it keeps what is made all the same", async () => {
    const envelope = { id: "01", kind: "task.take", device_ms: 1, body: { task: "T1" } };
    (await database()).close();
    await keep({ id: "01", build: "b9", envelope, made_ms: 1, state: "waiting" });
    expect((await outbox("b9")).map(({ id }) => id)).toEqual(["01"]);
  });

  it("says so when even that does not help: nothing counts as kept that is not", async () => {
    await expect(surely(full)).rejects.toThrow("no room");
  });

  it("does without what it can do without; any other fault is not hidden", async () => {
    await ifRoom(full);
    await expect(ifRoom(() => Promise.reject(new Error("broken")))).rejects.toThrow("broken");
    await expect(surely(() => Promise.reject(new Error("broken")))).rejects.toThrow("broken");
  });

  it("shows a photo that it has no room to keep", async () => {
    const db = await database();
    const before = db.transaction.bind(db);
    const refuse = vi.spyOn(db, "transaction").mockImplementation(((...names: unknown[]) => {
      if (String(names[0]).includes("pictures")) throw new DOMException("no room", "QuotaExceededError");
      return before(...(names as Parameters<typeof before>));
    }) as typeof db.transaction);
    const picture = { kind: "image/jpeg", bytes: new Uint8Array(9).buffer };
    expect(await keepPicture("b1", "P", "aa", picture)).toBe(true);
    refuse.mockRestore();
    expect(await picturesTake()).toEqual({ count: 0, bytes: 0 });
  });
});
