/**
 * All that this phone keeps, in one database:
 *   rows    the mirror of the service's rows, as this person may see them
 *   outbox  commands not yet answered, and refused ones not yet looked at; kept until answered, nothing expires
 *   kept    acknowledged commands of the last 30 days (a restored service may ask for them again)
 *   views   the last prepared answer per address, with its ETag, so that screens open without a connection
 *   facts   small things: cursor per build, who I am, people's names, looks of this phone
 */

import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Envelope, Head, Problem, RowChange } from "../wire/core";

export interface MirrorRow {
  build: string;
  kind: string;
  id: string;
  changed_at: number;
  body: Record<string, unknown>;
}

export interface Waiting {
  id: string;
  build: string;
  envelope: Envelope;
  made_ms: number;
  state: "waiting" | "refused";
  problem?: Problem;
}

export interface KeptView {
  address: string; // build + path
  etag: string | null;
  at_ms: number;
  body: unknown;
}

interface Shape extends DBSchema {
  rows: { key: [string, string, string]; value: MirrorRow; indexes: { build: string } };
  outbox: { key: string; value: Waiting; indexes: { build: string } };
  kept: { key: string; value: Waiting & { answered_ms: number } };
  views: { key: string; value: KeptView };
  facts: { key: string; value: unknown };
}

const KEEP_MS = 30 * 24 * 3600_000;
let opened: Promise<IDBPDatabase<Shape>> | undefined;

function database(): Promise<IDBPDatabase<Shape>> {
  opened ??= openDB<Shape>("yokemate", 1, {
    upgrade(db) {
      db.createObjectStore("rows", { keyPath: ["build", "kind", "id"] }).createIndex("build", "build");
      db.createObjectStore("outbox", { keyPath: "id" }).createIndex("build", "build");
      db.createObjectStore("kept", { keyPath: "id" });
      db.createObjectStore("views", { keyPath: "address" });
      db.createObjectStore("facts");
    },
  });
  return opened;
}

export async function fact<T>(name: string): Promise<T | undefined> {
  return (await (await database()).get("facts", name)) as T | undefined;
}

export async function setFact(name: string, value: unknown): Promise<void> {
  await (await database()).put("facts", value, name);
}

export async function mirrorOf(build: string): Promise<MirrorRow[]> {
  return (await database()).getAllFromIndex("rows", "build", build);
}

export async function cursorOf(build: string): Promise<Head | undefined> {
  return fact<Head>(`cursor:${build}`);
}

/** Everything still on this phone, in the order it was made. */
export async function outbox(build?: string): Promise<Waiting[]> {
  const db = await database();
  return build ? db.getAllFromIndex("outbox", "build", build) : db.getAll("outbox");
}

/** Store a command before anything else happens with it. Strict: on the disk, not only in memory. */
export async function keep(waiting: Waiting): Promise<void> {
  const tx = (await database()).transaction("outbox", "readwrite", { durability: "strict" });
  await tx.store.put(waiting);
  await tx.done;
}

/** Let a refused command go, or take back one that was never sent. */
export async function letGo(id: string): Promise<void> {
  await (await database()).delete("outbox", id);
}

export interface Taken {
  rows: RowChange[];
  reset: boolean;
  head: Head;
  answered: { id: string; problem?: Problem }[];
}

/** Take in one answer of the service in a single transaction: rows, cursor, and the fate of what was sent. */
export async function takeIn(build: string, taken: Taken): Promise<void> {
  const db = await database();
  const tx = db.transaction(["rows", "outbox", "kept", "facts"], "readwrite", { durability: "strict" });
  const rows = tx.objectStore("rows");
  if (taken.reset) {
    for (const key of await rows.index("build").getAllKeys(build)) await rows.delete(key);
  }
  for (const row of taken.rows) {
    if (row.body === null) await rows.delete([build, row.kind, row.id]);
    else await rows.put({ build, kind: row.kind, id: row.id, changed_at: row.changed_at, body: row.body });
  }
  const waiting = tx.objectStore("outbox");
  for (const { id, problem } of taken.answered) {
    const sent = await waiting.get(id);
    if (!sent) continue;
    if (problem) await waiting.put({ ...sent, state: "refused", problem });
    else {
      await waiting.delete(id);
      await tx.objectStore("kept").put({ ...sent, answered_ms: Date.now() });
    }
  }
  await tx.objectStore("facts").put(taken.head, `cursor:${build}`);
  await tx.done;
}

/** What the service acknowledged but no longer knows after a restore: offer it again (once per fork). */
export async function offerAgain(build: string): Promise<number> {
  const db = await database();
  const tx = db.transaction(["kept", "outbox"], "readwrite", { durability: "strict" });
  let count = 0;
  for (const old of await tx.objectStore("kept").getAll()) {
    if (old.build !== build) continue;
    const { answered_ms: _answered, ...again } = old;
    await tx.objectStore("outbox").put({ ...again, state: "waiting" });
    count += 1;
  }
  await tx.done;
  return count;
}

/** Which of these commands this phone holds already, waiting or acknowledged. */
export async function knownIds(ids: string[]): Promise<Set<string>> {
  const db = await database();
  const known = new Set<string>();
  for (const id of ids) {
    if ((await db.getKey("outbox", id)) || (await db.getKey("kept", id))) known.add(id);
  }
  return known;
}

export async function forgetOldKept(now: number = Date.now()): Promise<void> {
  const db = await database();
  for (const old of await db.getAll("kept")) {
    if (now - old.answered_ms > KEEP_MS) await db.delete("kept", old.id);
  }
}

export async function keptView(address: string): Promise<KeptView | undefined> {
  return (await database()).get("views", address);
}

export async function keepView(view: KeptView): Promise<void> {
  await (await database()).put("views", view);
}

/** Another person on this phone (demo, shared tablet): what the last one could see goes; the outbox stays. */
export async function forgetMirror(): Promise<void> {
  const db = await database();
  const tx = db.transaction(["rows", "views", "facts"], "readwrite");
  await tx.objectStore("rows").clear();
  await tx.objectStore("views").clear();
  for (const key of await tx.objectStore("facts").getAllKeys()) {
    if (key.startsWith("cursor:")) await tx.objectStore("facts").delete(key);
  }
  await tx.done;
}
