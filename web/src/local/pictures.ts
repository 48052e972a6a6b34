/**
 * Photos of the record that this phone has seen or fetched ahead, by digest, for when there is no connection.
 *
 * 1. At most `BUDGET_BYTES` of them: the ones not looked at for longest go first.
 * 2. One that is withdrawn goes in the transaction that takes in its row (`store.ts`), and one that was still being
 *    fetched then is not kept: keeping looks for that row in its own transaction (R1).
 * 3. Where the phone is full none is kept, and the one asked for is shown all the same.
 * 4. All go with the mirror, when somebody else is at this phone or it is shut out.
 */

import { database } from "./database";
import { ifRoom } from "./room";

export const BUDGET_BYTES = 50 * 2 ** 20;

export interface Picture {
  kind: string;
  bytes: ArrayBuffer;
}

/** Keep a picture that a payload shows. False: that payload was withdrawn meanwhile. */
export async function keepPicture(
  build: string,
  payload: string,
  sha256: string,
  picture: Picture,
  now: number = Date.now(),
  budget: number = BUDGET_BYTES,
): Promise<boolean> {
  let kept = true;
  await ifRoom(async () => {
    kept = await put(build, payload, sha256, picture, now, budget);
  });
  return kept;
}

async function put(
  build: string,
  payload: string,
  sha256: string,
  picture: Picture,
  now: number,
  budget: number,
): Promise<boolean> {
  const db = await database();
  const tx = db.transaction(["rows", "pictures", "picture_bytes"], "readwrite");
  if (await tx.objectStore("rows").get([build, "withdrawal", payload])) {
    await tx.done;
    return false;
  }
  const { kind, bytes } = picture;
  const listed = tx.objectStore("pictures");
  await listed.put({ build, sha256, kind, size: bytes.byteLength, seen_ms: now });
  await tx.objectStore("picture_bytes").put(bytes, [build, sha256]);
  const all = (await listed.getAll()).sort((one, other) => one.seen_ms - other.seen_ms);
  let size = all.reduce((sum, one) => sum + one.size, 0);
  for (const oldest of all) {
    if (size <= budget) break;
    const key: [string, string] = [oldest.build, oldest.sha256];
    await listed.delete(key);
    await tx.objectStore("picture_bytes").delete(key);
    size -= oldest.size;
  }
  await tx.done;
  return true;
}

/** A picture, if it is on this phone; it counts as looked at now. */
export async function lookAtPicture(
  build: string,
  sha256: string,
  now: number = Date.now(),
): Promise<Picture | undefined> {
  const db = await database();
  const tx = db.transaction(["pictures", "picture_bytes"], "readwrite");
  const found = await tx.objectStore("pictures").get([build, sha256]);
  const bytes = await tx.objectStore("picture_bytes").get([build, sha256]);
  if (found) await tx.objectStore("pictures").put({ ...found, seen_ms: now });
  await tx.done;
  return found && bytes ? { kind: found.kind, bytes } : undefined;
}

export async function hasPicture(build: string, sha256: string): Promise<boolean> {
  return (await (await database()).getKey("pictures", [build, sha256])) !== undefined;
}

/** How many there are, and how many bytes they take. */
export async function picturesTake(): Promise<{ count: number; bytes: number }> {
  const all = await (await database()).getAll("pictures");
  return { count: all.length, bytes: all.reduce((sum, one) => sum + one.size, 0) };
}
