/** What an exchange brought, taken into memory in one step. */

import { batch, effect } from "@preact/signals";
import { outbox as stored } from "../local/store";
import { onAnswer, triedInVain } from "../sync/exchange";
import { takeInMirror } from "./mirror";
import { outbox, refreshOutbox } from "./outbox";
import { build } from "./session";

/** What was *still here* is a row from one drawing to the next: no screen shows it twice, or not at all. */
export function takeInAnswers(): void {
  effect(() => {
    void triedInVain.value;
    void refreshOutbox();
  });
  onAnswer(async (id, answer) => {
    const waiting = await stored();
    batch(() => {
      if (build.value?.id === id) takeInMirror(answer);
      outbox.value = waiting;
    });
  });
}
