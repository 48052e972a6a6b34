/** Photos that wait on this phone until the service has them, as a signal. */

import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { keepPhoto, letPhotoGo, photos as stored, type WaitingPhoto } from "../local/photos";
import { onAnswer } from "../sync/exchange";
import { askAboutSent, sendPhotos } from "../sync/photos";
import type { NewPhoto } from "./photoMaking";
import { unused, urlOf, urlShown } from "./pictureUrls";
import { build, me, sendNow } from "./session";

export const photosHere = signal<WaitingPhoto[]>([]);

export async function refreshPhotos(): Promise<void> {
  const now = await stored();
  if (now.length > 0 || photosHere.peek().length > 0) photosHere.value = now;
}

/** Keep a photo on this phone until the service has it. Call it before the command that names it. */
export async function keepHere(photo: NewPhoto): Promise<void> {
  const here = build.value;
  if (!here) throw new Error("no build is open");
  const by = me.value?.person;
  await keepPhoto({
    ...photo,
    build: here.id,
    ...(by ? { by } : {}),
    made_ms: Date.now(),
    state: "waiting",
  });
  await refreshPhotos();
}

export async function letPhoto(one: WaitingPhoto): Promise<void> {
  await letPhotoGo(one.build, one.sha256);
  await refreshPhotos();
}

/** After each exchange, so that words come before pictures. */
onAnswer((id) => void afterWords(id));

async function afterWords(id: string): Promise<void> {
  if (await askAboutSent(id)) await refreshPhotos();
  if (photosHere.value.some((one) => one.state === "waiting" && one.build === id))
    await sendPhotos(id, () => void refreshPhotos());
  if (photosHere.value.length > 0) await refreshPhotos(); // another tab may have sent them
}

/** *Send now*: what waits, then its photos. False when something stays here. */
export async function sendAllNow(): Promise<boolean> {
  const sent = await sendNow();
  if (sent && build.value) await sendPhotos(build.value.id, () => void refreshPhotos());
  await refreshPhotos();
  return sent && photosHere.value.every((one) => one.state !== "waiting");
}

/** The address of a photo that waits on this phone, by its digest; null once it is not here any more. */
export function useWaitingPhoto(sha256: string): string | null {
  const [url, setUrl] = useState<string | null>(() => urlShown(sha256));
  const one = photosHere.value.find((photo) => photo.sha256 === sha256);
  const there = one !== undefined;
  useEffect(() => {
    if (!one) return undefined;
    setUrl(urlOf(sha256, new Blob([one.bytes], { type: one.kind })));
    return () => unused(sha256);
  }, [sha256, there]);
  return url;
}
