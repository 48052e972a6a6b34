/**
 * When there is no room left on this phone: what the service has too goes first, so that what only this phone has can be
 * kept.
 */

import { database } from "./database";

/** As browsers say it; an older Firefox has a word of its own. */
const FULL: readonly string[] = ["QuotaExceededError", "NS_ERROR_DOM_INDEXEDDB_QUOTA_ERR"];

export function isFull(why: unknown): boolean {
  return why instanceof DOMException && FULL.includes(why.name);
}

/** Photos of the record, and those of one's own that the service has. */
async function makeRoom(): Promise<void> {
  const stores = ["pictures", "picture_bytes", "sent_photos"] as const;
  const tx = (await database()).transaction(stores, "readwrite");
  await Promise.all([...stores.map((store) => tx.objectStore(store).clear()), tx.done]);
}

/** Do it; where the phone is full, make room and do it once more. Throws what the second try throws. */
export async function withRoom<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (why) {
    if (!isFull(why)) throw why;
    await makeRoom();
    return work();
  }
}

/** Do what can be done without: where the phone is full it is left. */
export async function ifRoom(work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (why) {
    if (!isFull(why)) throw why;
  }
}
