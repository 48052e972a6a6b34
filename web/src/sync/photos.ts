/**
 * Hand over the bytes of photos, one after the other, after the commands and in no order that matters: the service
 * keeps each under its digest, so sending one twice does no harm.
 */

import { letPhotoGo, photoNotJudged, photoRefused, photos } from "../local/photos";
import { letSentGo, lookDue, looked, photoSent, sendAgain, sentPhotos } from "../local/sentPhotos";
import { fact, sentNow } from "../local/store";
import { call, NoConnection, Refusal } from "../wire/call";
import { silent } from "./link";

const LIMIT_MS = 120_000; // half a megabyte over the worst of garage networks
let underWay: Promise<void> | undefined;

/** Send what waits for a build. `onEach` hears after each photo that its state changed. */
export function sendPhotos(build: string, onEach: () => void): Promise<void> {
  underWay ??= sendAll(build, onEach).finally(() => {
    underWay = undefined;
  });
  return underWay;
}

async function sendAll(build: string, onEach: () => void): Promise<void> {
  const me = await fact<{ person: string | null } | null>("me");
  for (const one of await photos()) {
    if (one.build !== build || one.state !== "waiting") continue;
    if (one.by !== undefined && one.by !== me?.person) continue; // it would be written down as another's
    const { sha256, kind, bytes } = one;
    try {
      await call("PUT", `/api/builds/${build}/photos/${sha256}`, { kind, bytes }, { timeoutMs: LIMIT_MS });
      await photoSent(build, sha256);
      await sentNow();
    } catch (why) {
      if (why instanceof NoConnection) {
        silent();
        return;
      }
      if (!(why instanceof Refusal)) throw why;
      if (why.problem.code === "withdrawn") await letPhotoGo(build, sha256);
      else if (why.problem.status === 401) return;
      else if (why.problem.status >= 500) await photoNotJudged(build, sha256, why.problem);
      else await photoRefused(build, sha256, why.problem);
    }
    onEach();
  }
}

/**
 * After a withdrawal, or when the service was put back: ask about each photo that it was sent. What was withdrawn goes from
 * here too (R1), what it lacks waits again. No bytes travel: it is asked whether the photo is still the one of that name.
 * True when some wait again.
 */
export async function askAboutSent(build: string): Promise<boolean> {
  const due = await lookDue(build);
  if (due === undefined) return false;
  let again = false;
  for (const sha256 of await sentPhotos(build)) {
    try {
      await call("GET", `/api/builds/${build}/photos/${sha256}`, undefined, { etag: `"${sha256}"` });
    } catch (why) {
      if (why instanceof NoConnection) return again; // asked again after the next exchange
      if (!(why instanceof Refusal)) throw why;
      if (why.problem.code === "withdrawn") await letSentGo(build, sha256);
      else if (why.problem.code === "not_sent_yet") {
        await sendAgain(build, sha256);
        again = true;
      } else if (why.problem.status === 401 || why.problem.status >= 500) return again;
    }
  }
  await looked(build, due);
  return again;
}
