/**
 * What was made at this phone by somebody the service does not know: it was put back to before they joined, and when they
 * are invited anew they get another id. Commands go only while whoever made them is here (`sync/exchange.ts`), and nobody of
 * that id will ever be again; so the person may say that it is theirs.
 */

import { computed } from "@preact/signals";
import { keepPhoto } from "../local/photos";
import { keep } from "../local/store";
import { loaded, rows } from "./mirror";
import { outbox, refreshOutbox } from "./outbox";
import { photosHere, refreshPhotos } from "./photos";
import { build, me, wake } from "./session";

/** On somebody's own phone only: at a shared tablet nobody can tell whose it was. */
export const ofStrangers = computed(() => {
  const here = me.value;
  if (!here?.person || here.device_shared || !loaded.value) return { commands: [], photos: [] };
  const crew = rows("member");
  const strange = (one: { by?: string; build: string; state: string }): boolean =>
    one.build === build.value?.id && one.state === "waiting" && one.by !== undefined && !crew.has(one.by);
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
