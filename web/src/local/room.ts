/**
 * When something can't be stored at the first try. Where there is no room left on this phone, what the service has too goes,
 * so that what only this phone has can be kept. Where the browser has lost its own database behind an app that lay in the
 * background, it is opened anew.
 */

import { database, openAnew } from "./database";

/** As browsers say it; an older Firefox has a word of its own. */
const FULL: readonly string[] = ["QuotaExceededError", "NS_ERROR_DOM_INDEXEDDB_QUOTA_ERR"];

export function isFull(why: unknown): boolean {
  return why instanceof DOMException && FULL.includes(why.name);
}

/** As Safari says it of a database that is gone from under it (from memory), and any browser of one that was closed. */
const LOST: readonly string[] = ["InvalidStateError", "UnknownError"];

/** Photos of the record, and those of one's own that the service has. */
async function makeRoom(): Promise<void> {
  const stores = ["pictures", "picture_bytes", "sent_photos"] as const;
  const tx = (await database()).transaction(stores, "readwrite");
  await Promise.all([...stores.map((store) => tx.objectStore(store).clear()), tx.done]);
}

/** Do it, and if that fails for such a reason, mend it and do it once more. Throws what the second try throws. */
export async function surely<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (why) {
    if (isFull(why)) await makeRoom();
    else if (why instanceof DOMException && LOST.includes(why.name)) openAnew();
    else throw why;
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
