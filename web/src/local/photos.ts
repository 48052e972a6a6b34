/** Photos that wait on this phone until the service has their bytes. They travel apart from the commands that name them. */

import type { Problem } from "../wire/core";
import { database, type WaitingPhoto } from "./database";
import { surely } from "./room";
import { inVain } from "./store";

export type { WaitingPhoto } from "./database";

/** Every photo still here, the oldest first. */
export async function photos(): Promise<WaitingPhoto[]> {
  const all = await (await database()).getAll("photos");
  return all.sort((one, other) => one.made_ms - other.made_ms);
}

export async function photoHere(build: string, sha256: string): Promise<WaitingPhoto | undefined> {
  return (await database()).get("photos", [build, sha256]);
}

/** Strict: on the disk before the command that names it is. */
export async function keepPhoto(photo: WaitingPhoto): Promise<void> {
  await surely(async () => {
    const tx = (await database()).transaction("photos", "readwrite", { durability: "strict" });
    await Promise.all([tx.store.put(photo), tx.done]);
  });
}

export async function letPhotoGo(build: string, sha256: string): Promise<void> {
  await (await database()).delete("photos", [build, sha256]);
}

/** The service won't have it: it stays with the reason until somebody has looked. */
export async function photoRefused(build: string, sha256: string, problem: Problem): Promise<void> {
  const photo = await photoHere(build, sha256);
  if (photo) await keepPhoto({ ...photo, state: "refused", problem });
}

/** It was handed over and the service broke down over it: it stays, and is handed over again. */
export async function photoNotJudged(build: string, sha256: string, problem: Problem): Promise<void> {
  const photo = await photoHere(build, sha256);
  if (photo) await keepPhoto({ ...photo, in_vain: inVain(photo.in_vain, problem) });
}
