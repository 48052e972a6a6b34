import "fake-indexeddb/auto";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { fileName, NotTakenIn, read, takeIn, unsentFile } from "../../src/app/handover";
import { outbox, refreshOutbox } from "../../src/app/outbox";
import { refreshPhotos } from "../../src/app/photos";
import { build, me } from "../../src/app/session";
import { keepPhoto, letPhotoGo, photos } from "../../src/local/photos";
import { takeIn as answered, keep, letGo, outbox as stored } from "../../src/local/store";

const ALED = { person: "person-aled", name: "Aled Rees" };

function at(buildId: string, person = ALED): void {
  build.value = { id: buildId, name: "Quillback Two", role: "helper" };
  me.value = {
    ...person,
    device: "d",
    device_shared: false,
    mode: "https",
    first_run: false,
    builds: [],
  };
}

async function waits(buildId: string, id: string, kind = "task.tick"): Promise<void> {
  const envelope = { id, kind, device_ms: 7, seen: 3, after: "before", body: { task: "T1", step: "a" } };
  await keep({ id, build: buildId, envelope, made_ms: 5, state: "waiting" });
  await refreshOutbox();
}

/** What a phone holds, as it were after moving: saved there, gone here. */
async function moved(buildId: string, ...ids: string[]): Promise<string> {
  for (const id of ids) await waits(buildId, id);
  const text = JSON.stringify(unsentFile(1_795_600_000_000));
  for (const id of ids) await letGo(id);
  await refreshOutbox();
  return text;
}

beforeEach(() => {
  vi.stubGlobal("location", { origin: "https://192.168.1.5:8420" });
  vi.stubGlobal("navigator", {});
});

describe("unsent work as a file", () => {
  it("is taken in as it was: same ids, same order, same envelope", async () => {
    at("b1");
    const text = await moved("b1", "h1", "h2");
    expect(await stored("b1")).toEqual([]);

    expect(await takeIn(text)).toEqual({ taken: 2, known: 0 });
    const [first, second] = await stored("b1");
    expect([first?.id, second?.id]).toEqual(["h1", "h2"]);
    expect(first?.envelope).toEqual({
      id: "h1",
      kind: "task.tick",
      device_ms: 7,
      seen: 3,
      after: "before",
      body: { task: "T1", step: "a" },
    });
    expect(outbox.value).toHaveLength(2);
  });

  it("takes its photos along, byte for byte, under their digest", async () => {
    at("b1");
    const bytes = new Uint8Array([0, 255, 16, 128, 7]).buffer;
    // `printf '\x00\xff\x10\x80\x07' | sha256sum`
    const sha256 = "f80779f91fed71777f1bef3f32443070400cb334e7df2a96a0c0586ec02bc59d";
    await keepPhoto({ sha256, build: "b1", kind: "image/jpeg", bytes, made_ms: 4, state: "waiting" });
    await refreshPhotos();
    const text = JSON.stringify(unsentFile());
    await letPhotoGo("b1", sha256);
    await takeIn(text);
    const [taken] = await photos();
    expect(taken?.by).toBe(ALED.person);
    expect([taken?.sha256, taken?.made_ms, [...new Uint8Array(taken?.bytes ?? new ArrayBuffer(0))]]).toEqual([
      sha256,
      4,
      [0, 255, 16, 128, 7],
    ]);
    await letPhotoGo("b1", sha256);
    await refreshPhotos();
  });

  it("holds what waits for this build only, and says whose and from where", async () => {
    at("b2");
    await waits("b-other", "o1");
    await waits("b2", "w1");
    await keep({
      id: "r1",
      build: "b2",
      made_ms: 1,
      state: "refused",
      envelope: { id: "r1", kind: "task.take", device_ms: 1, body: {} },
    });
    await refreshOutbox();
    const file = unsentFile();
    expect(file.commands.map((one) => one.envelope.id)).toEqual(["w1"]);
    expect(file.person).toEqual({ id: "person-aled", name: "Aled Rees" });
    expect(file.from).toBe("https://192.168.1.5:8420");
    expect(fileName({ ...file, saved_ms: Date.UTC(2026, 10, 25) })).toBe(
      "unsent-quillback-two-aled-rees-2026-11-25.json",
    );
  });

  it("is taken in once, also when some of it was acknowledged meanwhile", async () => {
    at("b3");
    const text = await moved("b3", "k1", "k2", "k3");
    await waits("b3", "k1");
    await waits("b3", "k2");
    await answered("b3", {
      rows: [],
      reset: false,
      head: { number: 1, digest: "d" },
      answered: [{ id: "k2" }],
    });

    expect(await takeIn(text)).toEqual({ taken: 1, known: 2 });
    expect(await takeIn(text)).toEqual({ taken: 0, known: 3 });
    expect((await stored("b3")).map((one) => one.id)).toEqual(["k1", "k3"]);
  });

  it.each([
    ["another build", "b9", ALED, "belongs to Quillback Two"],
    ["another person", "b4", { person: "person-bram", name: "Bram" }, "Aled Rees's work"],
  ])("of %s is refused and leaves nothing", async (_which, buildId, person, says) => {
    at("b4");
    const text = await moved("b4", `n-${buildId}`);
    at(buildId, person);
    await expect(takeIn(text)).rejects.toThrow(says);
    expect(await stored(buildId)).toEqual([]);
  });

  it.each([
    ["not json", "{"],
    ["nothing", "null"],
    ["a plan", '{"format":"yokemate-plan/1"}'],
    ["a torn one", '{"format":"yokemate-unsent/1","commands":[{"made_ms":1,"envelope":{"id":1}}]}'],
    ["no list", '{"format":"yokemate-unsent/1"}'],
  ])("that is %s is refused in words", (_which, text) => {
    expect(() => read(text)).toThrow("no file of unsent work");
  });

  it("of another version says to take the new version", () => {
    expect(() => read('{"format":"yokemate-unsent/2","commands":[]}')).toThrow(NotTakenIn);
    expect(() => read('{"format":"yokemate-unsent/2","commands":[]}')).toThrow("another version");
  });
});
