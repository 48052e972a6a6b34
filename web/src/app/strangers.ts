/**
 * What was made at this phone by somebody who can hand it over no more: a guest whose day was over before there was a signal,
 * or whom the service does not know, because it was put back to before they joined. Invited anew they get another id, and
 * commands go only while whoever made them is here (`sync/exchange.ts`). So the person may say that it is theirs.
 */

import { computed } from "@preact/signals";
import { keepPhoto, type WaitingPhoto } from "../local/photos";
import { keep } from "../local/store";
import { loaded, rows } from "./mirror";
import { outbox, refreshOutbox } from "./outbox";
import { photosHere, refreshPhotos } from "./photos";
import { build, me, serverNow, wake } from "./session";

type Made = Pick<WaitingPhoto, "by" | "build" | "state">;

/** As the service judges it (`rules/presence.py`). */
function isGone(person: string): boolean {
  const member = rows("member").get(person);
  if (!member || member.left) return true;
  const until = member.guest_until_ms;
  return typeof until === "number" && until <= serverNow();
}

/** On somebody's own phone only: at a shared tablet nobody can tell whose it was. */
export const ofStrangers = computed(() => {
  const here = me.value;
  if (!here?.person || here.device_shared || !loaded.value) return { commands: [], photos: [] };
  const strange = ({ by, build: of, state }: Made): boolean =>
    of === build.value?.id && state === "waiting" && by !== undefined && by !== here.person && isGone(by);
  return { commands: outbox.value.filter(strange), photos: photosHere.value.filter(strange) };
});

/** The person says that all of it is theirs: it goes as their own, under the ids it has. */
export async function takeAsMine(): Promise<void> {
  const by = me.value?.person;
  if (!by) return;
  const { commands, photos } = ofStrangers.value;
  for (const one of commands) await keep({ ...one, by });
  for (const one of photos) await keepPhoto({ ...one, by });
  await refreshPhotos();
  await refreshOutbox();
  wake();
}
