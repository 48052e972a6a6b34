import "fake-indexeddb/auto";
import { beforeEach, expect, it, vi } from "vitest";
import { takeInMirror } from "../../src/app/mirror";
import { outbox, refreshOutbox } from "../../src/app/outbox";
import { photosHere, refreshPhotos } from "../../src/app/photos";
import { build, me } from "../../src/app/session";
import { ofStrangers, takeAsMine } from "../../src/app/strangers";
import { keepPhoto } from "../../src/local/photos";
import { keep, outbox as stored } from "../../src/local/store";

const OVER_MS = 1_000; // long ago

/** The service was put back to before Dana joined; she was invited anew. Aled made something here too, and is known. */
beforeEach(async () => {
  vi.stubGlobal("navigator", {});
  vi.stubGlobal("location", { origin: "https://192.168.1.5:8420" });
  build.value = { id: "b1", name: "Quillback Two", role: "helper" };
  me.value = {
    person: "dana-2",
    name: "Dana",
    device: "d",
    device_shared: false,
    mode: "https",
    first_run: false,
    builds: [],
  };
  takeInMirror({
    head: { number: 3, digest: "d" },
    forked: false,
    reset: true,
    outcomes: [],
    rows: [
      { id: "aled", guest_until_ms: Date.now() + 3_600_000 },
      { id: "dana-2" },
      { id: "gast", guest_until_ms: OVER_MS },
      { id: "left", left: true },
    ].map((body) => ({ kind: "member", id: body.id, changed_at: 1, body })),
  });
  for (const [id, by] of [
    ["01", "dana-1"],
    ["02", "aled"],
    ["03", "dana-2"],
  ] as const) {
    const envelope = { id, kind: "task.take", device_ms: 1, body: { task: "T1" } };
    await keep({ id, build: "b1", by, envelope, made_ms: 1, state: "waiting" });
  }
  const bytes = new Uint8Array([1]).buffer;
  await keepPhoto({
    sha256: "aa",
    build: "b1",
    kind: "image/jpeg",
    bytes,
    made_ms: 1,
    by: "dana-1",
    state: "waiting",
  });
  await refreshOutbox();
  await refreshPhotos();
});

it("what somebody unknown made on one's own phone goes as one's own once one says so; a known person's never", async () => {
  expect(ofStrangers.value.commands.map(({ id }) => id)).toEqual(["01"]);
  expect(ofStrangers.value.photos).toHaveLength(1);
  await takeAsMine();
  expect((await stored("b1")).map(({ id, by }) => [id, by])).toEqual([
    ["01", "dana-2"],
    ["02", "aled"],
    ["03", "dana-2"],
  ]);
  expect(photosHere.value.map(({ by }) => by)).toEqual(["dana-2"]);
  expect(ofStrangers.value.commands).toEqual([]);
});

it("nobody is asked at the shared tablet, nor about what belongs to another build", async () => {
  if (me.value) me.value = { ...me.value, device_shared: true };
  expect(ofStrangers.value.commands).toEqual([]);
  if (me.value) me.value = { ...me.value, device_shared: false };
  build.value = { id: "b2", name: "Another", role: "helper" };
  expect(ofStrangers.value.commands).toEqual([]);
  expect(outbox.value).toHaveLength(3);
});

it("so it is with a guest whose day was over before there was a signal, and with who left", async () => {
  for (const [id, by] of [
    ["04", "gast"],
    ["05", "left"],
  ] as const) {
    const envelope = { id, kind: "task.take", device_ms: 1, body: { task: "T1" } };
    await keep({ id, build: "b1", by, envelope, made_ms: 1, state: "waiting" });
  }
  await refreshOutbox();
  expect(ofStrangers.value.commands.map(({ by }) => by)).toEqual(["dana-1", "gast", "left"]);
});
