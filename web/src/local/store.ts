/** Reading and writing what this phone keeps: mirror, outbox, acknowledged commands, prepared answers, small facts. */

import type { Head, Problem, RowChange } from "../wire/core";
import { database, type InVain, type KeptView, type MirrorRow, type Waiting } from "./database";
import { ifRoom, surely } from "./room";

export type { InVain, KeptView, MirrorRow, Waiting } from "./database";

/** What was acknowledged stays so long, should a service that was put back lack it. */
export const KEEP_MS = 30 * 24 * 3600_000;

export async function fact<T>(name: string): Promise<T | undefined> {
  return surely(async () => (await (await database()).get("facts", name)) as T | undefined);
}

export async function setFact(name: string, value: unknown): Promise<void> {
  await (await database()).put("facts", value, name);
}

const SENT = "sent_ms";

/** When the service last had something of this phone, if ever. */
export async function sentLast(): Promise<number | undefined> {
  return fact<number>(SENT);
}

export async function sentNow(): Promise<void> {
  await setFact(SENT, Date.now());
}

export async function mirrorOf(build: string): Promise<MirrorRow[]> {
  return (await database()).getAll("rows", ofBuild(build));
}

/** Everything of a build where the key begins with it: no index to go through, of which a phone would feel each row. */
function ofBuild(build: string): IDBKeyRange {
  return IDBKeyRange.bound([build], [build, []]);
}

export async function cursorOf(build: string): Promise<Head | undefined> {
  return fact<Head>(`cursor:${build}`);
}

/** The last head this phone heard of: it outlives the mirror, so that a service which was put back is known for that. */
export async function knewOf(build: string): Promise<Head | undefined> {
  return fact<Head>(`knew:${build}`);
}

/** Everything still on this phone, in the order it was made. */
export async function outbox(build?: string): Promise<Waiting[]> {
  return surely(async () => {
    const db = await database();
    return build ? db.getAllFromIndex("outbox", "build", build) : db.getAll("outbox");
  });
}

/** Store a command before anything else happens with it. Strict: on the disk, not only in memory. */
export async function keep(waiting: Waiting): Promise<void> {
  await surely(async () => {
    const tx = (await database()).transaction("outbox", "readwrite", { durability: "strict" });
    await Promise.all([tx.store.put(waiting), tx.done]);
  });
}

/** Let a refused command go, or take back one that was never sent. */
export async function letGo(id: string): Promise<void> {
  await (await database()).delete("outbox", id);
}

/** One more try that left it unjudged. */
export function inVain(before: InVain | undefined, problem: Problem | undefined, now = Date.now()): InVain {
  return {
    times: (before?.times ?? 0) + 1,
    since_ms: before?.since_ms ?? now,
    ...(problem ? { problem } : {}),
  };
}

/** These were handed over and not judged. They stay as they are, and are handed over again. */
export async function notJudged(ids: readonly string[], problem?: Problem): Promise<void> {
  const tx = (await database()).transaction("outbox", "readwrite");
  for (const id of ids) {
    const one = await tx.store.get(id);
    if (one?.state === "waiting") await tx.store.put({ ...one, in_vain: inVain(one.in_vain, problem) });
  }
  await tx.done;
}

export interface Taken {
  rows: RowChange[];
  reset: boolean;
  head: Head;
  forked?: boolean; // the service was put back
  answered: { id: string; problem?: Problem }[];
}

/** Under which address what a payload stands for is kept: free words, or the digest of a photo. */
export function payloadAddress(build: string, payload: string): string {
  return `${build}/payloads/${payload}`;
}

const AT_A_TIME = 50;
const TAKEN_INTO = [
  "rows",
  "outbox",
  "kept",
  "facts",
  "views",
  "pictures",
  "picture_bytes",
  "sent_photos",
] as const;

/** Where it is noted that the service is to be asked about photos it was sent (`sentPhotos.ts`). */
export function lookFact(build: string): string {
  return `look_at_sent:${build}`;
}

/**
 * Take in one answer of the service in a single transaction: rows, cursor, and the fate of what was sent. Where a row
 * says that something was withdrawn, what this phone keeps of it goes (R1).
 */
export async function takeIn(build: string, taken: Taken): Promise<void> {
  await surely(() => takeInOnce(build, taken));
}

async function takeInOnce(build: string, taken: Taken): Promise<void> {
  const db = await database();
  const tx = db.transaction(TAKEN_INTO, "readwrite", { durability: "strict" });
  const rows = tx.objectStore("rows");
  // Not one after the other: the first exchange brings hundreds of rows, and each would cost a turn of the browser's loop.
  const under_way: Promise<unknown>[] = [];
  const begun = (one: Promise<unknown>) => {
    one.catch(() => undefined); // heard below, or the step that failed before it says the same
    under_way.push(one);
  };
  begun(tx.done);
  if (taken.reset) begun(rows.delete(ofBuild(build)));
  for (const [index, { kind, id, changed_at, body }] of taken.rows.entries()) {
    const one =
      body === null ? rows.delete([build, kind, id]) : rows.put({ build, kind, id, changed_at, body });
    begun(one);
    if (index % AT_A_TIME === AT_A_TIME - 1) await one; // a press between them is heard
  }
  const withdrawn = taken.rows.filter((row) => row.kind === "withdrawal" && row.body !== null);
  for (const { id } of withdrawn) {
    const address = payloadAddress(build, id);
    const sha256 = ((await tx.objectStore("views").get(address))?.body as { photo?: string } | undefined)
      ?.photo;
    await tx.objectStore("views").delete(address);
    if (!sha256) continue;
    for (const store of ["pictures", "sent_photos"] as const)
      await tx.objectStore(store).delete([build, sha256]);
    await tx.objectStore("picture_bytes").delete([build, sha256]);
  }
  // What was prepared for the lost end of the record goes: its numbers come again, for other entries.
  if (taken.forked) await tx.objectStore("views").delete(IDBKeyRange.bound(`${build}/`, `${build}/\uffff`));
  if (withdrawn.length > 0 || taken.forked)
    await tx.objectStore("facts").put(taken.head.number, lookFact(build));
  const waiting = tx.objectStore("outbox");
  for (const { id, problem } of taken.answered) {
    const sent = await waiting.get(id);
    if (!sent) continue;
    const { in_vain, ...judged } = sent;
    if (problem && problem.status >= 500) {
      // Not judged: the service broke down over it. It stays, and is handed over again.
      await waiting.put({ ...judged, in_vain: inVain(in_vain, problem) });
    } else if (problem) await waiting.put({ ...judged, state: "refused", problem });
    else {
      await waiting.delete(id);
      await tx.objectStore("kept").put({ ...judged, answered_ms: Date.now() });
    }
  }
  if (taken.answered.length > 0) await tx.objectStore("facts").put(Date.now(), SENT);
  await tx.objectStore("facts").put(taken.head, `cursor:${build}`);
  await tx.objectStore("facts").put(taken.head, `knew:${build}`);
  await Promise.all(under_way);
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
  return surely(async () => (await database()).get("views", address));
}

export async function keepView(view: KeptView): Promise<void> {
  await ifRoom(async () => (await database()).put("views", view));
}

/** Keep what a payload stands for, unless it was withdrawn while it was asked for. */
export async function keepPayload(
  build: string,
  payload: string,
  body: { text?: string | null; photo?: string | null },
): Promise<void> {
  await ifRoom(async () => {
    const tx = (await database()).transaction(["rows", "views"], "readwrite");
    if (!(await tx.objectStore("rows").get([build, "withdrawal", payload]))) {
      const address = payloadAddress(build, payload);
      await tx.objectStore("views").put({ address, etag: null, at_ms: Date.now(), body });
    }
    await tx.done;
  });
}

/** Another person on this phone, or nobody any more: what the last one could see goes; the outbox stays. */
export async function forgetMirror(): Promise<void> {
  const db = await database();
  const tx = db.transaction(["rows", "views", "facts", "pictures", "picture_bytes"], "readwrite");
  for (const store of ["rows", "views", "pictures", "picture_bytes"] as const)
    await tx.objectStore(store).clear();
  for (const key of await tx.objectStore("facts").getAllKeys()) {
    if (key.startsWith("cursor:") || key.startsWith("people:")) await tx.objectStore("facts").delete(key);
  }
  await tx.done;
}
