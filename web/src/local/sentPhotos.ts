/**
 * Photos of one's own that the service has. They are kept here for a while all the same: a service that is put back to a
 * backup has lost them, and no other phone may hold them. Nobody is shown these; `pictures.ts` keeps what is shown.
 *
 * 1. For 30 days, as acknowledged commands are, and at most `BUDGET_BYTES`: the ones sent longest ago go first.
 * 2. The record names a photo by a payload id that this phone may never have asked about. So when something was withdrawn, or
 *    the service put back, it is asked about each: what was withdrawn goes, what it lacks is sent again (R1).
 */

import { database, type WaitingPhoto } from "./database";
import { ifRoom } from "./room";
import { fact, KEEP_MS, lookFact } from "./store";

export const BUDGET_BYTES = 50 * 2 ** 20;

/** The service has it: from those that wait to those that were sent. */
export async function photoSent(
  build: string,
  sha256: string,
  now: number = Date.now(),
  budget: number = BUDGET_BYTES,
): Promise<void> {
  const db = await database();
  const photo = await db.get("photos", [build, sha256]);
  await db.delete("photos", [build, sha256]);
  if (!photo) return;
  const { in_vain: _tries, ...one } = photo;
  await ifRoom(async () => {
    const tx = db.transaction("sent_photos", "readwrite");
    const put = tx.store.put({ ...one, sent_ms: now, size: one.bytes.byteLength });
    await Promise.all([put, tx.done]);
  });
  await trim(now, budget);
}

/** Over the index alone: which there are and how large, without their bytes. Newest first. */
async function trim(now: number, budget: number): Promise<void> {
  const tx = (await database()).transaction("sent_photos", "readwrite");
  let size = 0;
  for (
    let at = await tx.store.index("sent").openKeyCursor(null, "prev");
    at !== null;
    at = await at.continue()
  ) {
    const [sent_ms, its] = at.key;
    size += its;
    if (size > budget || now - sent_ms > KEEP_MS) await tx.store.delete(at.primaryKey);
  }
  await tx.done;
}

export async function forgetOldSent(now: number = Date.now()): Promise<void> {
  await trim(now, BUDGET_BYTES);
}

/** The digests of those of a build. */
export async function sentPhotos(build: string): Promise<string[]> {
  const keys = await (await database()).getAllKeys("sent_photos");
  return keys.flatMap(([of, sha256]) => (of === build ? [sha256] : []));
}

export async function letSentGo(build: string, sha256: string): Promise<void> {
  await (await database()).delete("sent_photos", [build, sha256]);
}

/** The service does not have it any more: it waits again. */
export async function sendAgain(build: string, sha256: string): Promise<void> {
  const tx = (await database()).transaction(["photos", "sent_photos"], "readwrite", { durability: "strict" });
  const found = await tx.objectStore("sent_photos").get([build, sha256]);
  if (found) {
    const { sent_ms: _sent, size: _size, ...photo } = found;
    const again: WaitingPhoto = { ...photo, state: "waiting" };
    await tx.objectStore("photos").put(again);
    await tx.objectStore("sent_photos").delete([build, sha256]);
  }
  await tx.done;
}

/** How many there are, and how many bytes they take. */
export async function sentPhotosTake(): Promise<{ count: number; bytes: number }> {
  const tx = (await database()).transaction("sent_photos");
  let count = 0;
  let bytes = 0;
  for (let at = await tx.store.index("sent").openKeyCursor(); at !== null; at = await at.continue()) {
    count += 1;
    bytes += at.key[1];
  }
  return { count, bytes };
}

/** Up to which head of a build something was withdrawn, or the service put back, since these were last asked about. */
export async function lookDue(build: string): Promise<number | undefined> {
  return fact<number>(lookFact(build));
}

/** They were asked about; unless an exchange has told of more meanwhile. */
export async function looked(build: string, due: number): Promise<void> {
  const tx = (await database()).transaction("facts", "readwrite");
  if ((await tx.store.get(lookFact(build))) === due) await tx.store.delete(lookFact(build));
  await tx.done;
}
