/** Unsent work as a file: saved at an address that is given up, taken in at the new one. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { NotTakenIn, save, takeIn, unsentFile } from "../app/handover";
import { mine, outbox } from "../app/outbox";
import { photosHere } from "../app/photos";
import { build, me } from "../app/session";
import { Button, FileField, NoticeLine, RefusalPanel } from "./parts";

/** Everything that waits, as a file; how many are in it. It stays here too. */
export function saveUnsent(): number {
  const file = unsentFile();
  save(file);
  return file.commands.length + file.photos.length;
}

export function Handover(): JSX.Element | null {
  const [said, setSaid] = useState<string | null>(null);
  const [refused, setRefused] = useState<NotTakenIn | null>(null);
  const waiting = [...outbox.value, ...photosHere.value].filter(
    (one) => one.state === "waiting" && one.build === build.value?.id && mine(one),
  );
  if (!me.value?.person || me.value.device_shared) return null;

  async function take(file: File): Promise<void> {
    setSaid(null);
    setRefused(null);
    try {
      const { taken, known } = await takeIn(await file.text());
      const before = known > 0 ? ` ${known} ${known === 1 ? "was" : "were"} here before.` : "";
      setSaid(`${taken} taken in.${before} Nothing is done twice.`);
    } catch (why) {
      if (!(why instanceof NotTakenIn)) throw why;
      setRefused(why);
    }
  }

  return (
    <details class="fold" open={waiting.length > 0 || said !== null || refused !== null}>
      <summary>When the service has another address</summary>
      <div class="stack">
        <p class="t-small t-dim">
          A browser keeps things by address. What waits here goes along as a file, to a phone of yours that is
          enrolled at the new one.
        </p>
        {waiting.length > 0 && (
          <Button
            label="Save it as a file"
            onPress={() =>
              setSaid(`Saved, ${saveUnsent()} in it. It stays here too, until the service has it.`)
            }
          />
        )}
        <FileField
          label="Take in a file"
          accept=".json,application/json"
          onFile={(file) => void take(file)}
        />
        {refused && <RefusalPanel sentence={refused.sentence} remedy={refused.remedy} />}
        {said && <NoticeLine>{said}</NoticeLine>}
      </div>
    </details>
  );
}
