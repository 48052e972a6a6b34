/** What an exchange brought, taken into memory in one step. */

import { batch, effect } from "@preact/signals";
import { outbox as stored } from "../local/store";
import { onAnswer, triedInVain } from "../sync/exchange";
import { head, openMirror, takeInMirror } from "./mirror";
import { refreshOutbox, showOutbox } from "./outbox";
import { build } from "./session";

/** What was *still here* is a row from one drawing to the next: no screen shows it twice, or not at all. */
export function takeInAnswers(): void {
  effect(() => {
    void triedInVain.value;
    void refreshOutbox();
  });
  onAnswer(async (id, answer, since) => {
    const waiting = await stored();
    // Asked from further on than this tab has seen: another tab took in what lies between, and stored it.
    if (build.value?.id === id && since?.digest !== head.value?.digest) await openMirror(id);
    batch(() => {
      if (build.value?.id === id) takeInMirror(answer);
      showOutbox(waiting);
    });
  });
}
