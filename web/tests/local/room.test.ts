import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { database } from "../../src/local/database";
import { keepPicture, picturesTake } from "../../src/local/pictures";
import { ifRoom, withRoom } from "../../src/local/room";
import { forgetMirror, keepPayload } from "../../src/local/store";

const full = () => Promise.reject(new DOMException("no room", "QuotaExceededError"));

beforeEach(forgetMirror);

describe("a phone that is full", () => {
  it("gives up what the service has too, and keeps what only it has", async () => {
    await keepPayload("b1", "P", { photo: "aa" });
    await keepPicture("b1", "P", "aa", { kind: "image/jpeg", bytes: new Uint8Array(9).buffer });
    const work = vi.fn<() => Promise<string>>().mockImplementationOnce(full).mockResolvedValueOnce("kept");
    expect(await withRoom(work)).toBe("kept");
    expect(await picturesTake()).toEqual({ count: 0, bytes: 0 });
  });

  it("says so when even that does not help: nothing counts as kept that is not", async () => {
    await expect(withRoom(full)).rejects.toThrow("no room");
  });

  it("does without what it can do without; any other fault is not hidden", async () => {
    await ifRoom(full);
    await expect(ifRoom(() => Promise.reject(new Error("broken")))).rejects.toThrow("broken");
    await expect(withRoom(() => Promise.reject(new Error("broken")))).rejects.toThrow("broken");
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
