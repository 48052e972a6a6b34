import "fake-indexeddb/auto";
import { openDB } from "idb";
import { expect, it, vi } from "vitest";
import { photos } from "../../src/local/photos";
import { outbox } from "../../src/local/store";

it("a phone with the first version's database keeps its outbox when the app is new", async () => {
  const old = await openDB("yokemate", 1, {
    upgrade(db) {
      db.createObjectStore("rows", { keyPath: ["build", "kind", "id"] }).createIndex("build", "build");
      db.createObjectStore("outbox", { keyPath: "id" }).createIndex("build", "build");
      db.createObjectStore("kept", { keyPath: "id" });
      db.createObjectStore("views", { keyPath: "address" });
      db.createObjectStore("facts");
    },
  });
  await old.put("outbox", { id: "c1", build: "b1", envelope: { id: "c1" }, made_ms: 1, state: "waiting" });
  old.close();

  expect((await outbox("b1")).map((one) => one.id)).toEqual(["c1"]);
  expect(await photos()).toEqual([]);
});

it("an app that is older than what the phone holds opens it as it is", async () => {
  const { database } = await import("../../src/local/database");
  (await database()).close();
  const newer = await openDB("yokemate", 99, { upgrade: (db) => void db.createObjectStore("later") });
  newer.close();
  vi.resetModules();

  const again = await import("../../src/local/store");
  expect((await again.outbox("b1")).map((one) => one.id)).toEqual(["c1"]);
});
