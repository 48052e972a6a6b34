/**
 * A photo of the record by the payload id that an entry names (R1): from this phone where it is kept, or else from the
 * service, and then kept for when there is no connection.
 */

import { useEffect, useState } from "preact/hooks";
import { photoHere } from "../local/photos";
import { hasPicture, keepPicture, lookAtPicture, type Picture } from "../local/pictures";
import { link } from "../sync/link";
import { rows } from "./mirror";
import { GONE, stoodFor, UNSEEN } from "./payloads";
import { photosHere } from "./photos";
import { unused, urlOf, urlShown } from "./pictureUrls";
import { build, shutOut } from "./session";

const AWAITED = "awaited";
type Lacking = typeof AWAITED | typeof GONE | typeof UNSEEN;
const WORDS: Record<Lacking, string> = {
  awaited: "Photo awaited: it is still on a phone",
  withdrawn: "(photo withdrawn)",
  unseen: "(photo: shown when connected)",
};
const AGAIN_MS = 15_000;

interface Found {
  sha256: string;
  picture: Picture;
  unsent: boolean;
}

async function pictureOf(here: string, payload: string): Promise<Found | Lacking> {
  const stood = await stoodFor(here, payload);
  if (typeof stood === "string") return stood;
  const sha256 = stood.photo;
  if (!sha256) return UNSEEN;
  const kept = await lookAtPicture(here, sha256);
  const mine = await photoHere(here, sha256);
  if (kept) return { sha256, picture: kept, unsent: mine !== undefined };
  const picture = mine ?? (await fetched(here, sha256));
  if (typeof picture === "string") return picture;
  // Whoever was shut out meanwhile keeps nothing more.
  const may = build.value?.id === here && !shutOut.value;
  if (may && !(await keepPicture(here, payload, sha256, picture))) return GONE;
  return { sha256, picture, unsent: mine !== undefined };
}

/** Past the browser's own cache: what is kept of the crew's photos lies in one place, where it can be forgotten. */
async function fetched(here: string, sha256: string): Promise<Picture | Lacking> {
  try {
    const asked = { credentials: "same-origin", cache: "no-store" } as const;
    const answer = await fetch(`/api/builds/${here}/photos/${sha256}`, asked);
    if (answer.ok) {
      return { kind: answer.headers.get("Content-Type") ?? "", bytes: await answer.arrayBuffer() };
    }
    return answer.status === 404 ? AWAITED : answer.status === 410 ? GONE : UNSEEN;
  } catch {
    return UNSEEN; // no connection
  }
}

/** Have a photo on this phone before somebody looks at it. True once it is here, or can't be. */
export async function fetchPicture(here: string, payload: string): Promise<boolean> {
  const stood = await stoodFor(here, payload);
  if (typeof stood === "string") return stood === GONE;
  if (stood.photo && (await hasPicture(here, stood.photo))) return true;
  const found = await pictureOf(here, payload);
  return typeof found !== "string" || found === GONE;
}

export interface SeenPhoto {
  /** An address for an <img>, good until the part that shows it is gone. */
  url: string | null;
  /** Said instead: awaited, withdrawn, shown when connected. */
  instead: string | null;
  /** Still on this phone. */
  unsent: boolean;
}

/**
 * `undefined` while it is looked up. Asked for again when the connection is back, or while it is awaited.
 * `madeHere`: the digest where this phone made the photo; it is shown meanwhile.
 */
export function usePhoto(payload: string | null | undefined, madeHere?: string): SeenPhoto | undefined {
  const [seen, setSeen] = useState<SeenPhoto | undefined>(() => {
    const url = madeHere ? urlShown(madeHere) : null;
    return url ? { url, instead: null, unsent: true } : undefined;
  });
  const here = build.value?.id;
  const up = link.value.up;
  const waiting = photosHere.value.length;
  const gone = payload ? rows("withdrawal").has(payload) : false;
  const [again, setAgain] = useState(0);
  useEffect(() => {
    let shown = true;
    let held: string | null = null;
    let timer: ReturnType<typeof setTimeout> | undefined;
    if (payload && here && !gone) {
      void pictureOf(here, payload).then((found) => {
        if (!shown) return;
        if (typeof found === "string") {
          setSeen({ url: null, instead: WORDS[found], unsent: false });
          if (found === AWAITED) timer = setTimeout(() => setAgain((count) => count + 1), AGAIN_MS);
        } else {
          held = found.sha256;
          const blob = new Blob([found.picture.bytes], { type: found.picture.kind });
          setSeen({ url: urlOf(held, blob), instead: null, unsent: found.unsent });
        }
      });
    }
    return () => {
      shown = false;
      clearTimeout(timer);
      if (held) unused(held);
    };
  }, [payload, here, up, waiting, gone, again]);
  return gone ? { url: null, instead: WORDS.withdrawn, unsent: false } : seen;
}
