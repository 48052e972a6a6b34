/** Still on this phone: what has not been sent, and what was refused, with what was typed. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { letGo, mine, othersWait, outbox, refusals, unanswered, waitingCount } from "../../app/outbox";
import { letPhoto, photosHere, sendAllNow } from "../../app/photos";
import { build, nameOf } from "../../app/session";
import { ofStrangers } from "../../app/strangers";
import { sentLast } from "../../local/store";
import { link } from "../../sync/link";
import { Handover } from "../Handover";
import { MendIt, mendLink } from "../mending";
import { Button, EmptyState, LinkButton, MainButton, NoticeLine, RefusalPanel, Stub } from "../parts";
import { Screen } from "../Screen";
import { Storage } from "../Storage";
import { Strangers } from "../Strangers";
import { Unanswered } from "../Unanswered";
import { commandWords, linkTo, typedWords } from "../words/commands";
import { age, moment } from "../words/times";

/** Why one that waits is not gone yet. */
function whyHere({ build: of }: { build: string }): string {
  if (of !== build.value?.id) return "It belongs to another build: open that, and it goes.";
  return link.value.up ? "It is on its way." : "It waits for a connection.";
}

/** How many of whose wait for them, and no word of what (R31). */
function Others(): JSX.Element | null {
  const counts = new Map<string, number>();
  const { commands, photos } = ofStrangers.value; // asked about above
  const strange = new Set<unknown>([...commands, ...photos]);
  for (const one of othersWait.value) {
    if (one.by && !strange.has(one)) counts.set(one.by, (counts.get(one.by) ?? 0) + 1);
  }
  return (
    <>
      {[...counts].map(([person, count]) => (
        <p key={person} class="t-dim">
          {count} of {nameOf(person)}'s wait until {nameOf(person)} is at this phone again.
        </p>
      ))}
    </>
  );
}

function AllSent(): JSX.Element {
  const [at_ms, setAt] = useState<number | undefined>(undefined);
  useEffect(() => void sentLast().then(setAt), []);
  return <EmptyState sentence={at_ms ? `All sent at ${moment(at_ms)}.` : "All sent."} />;
}

export default function Here(): JSX.Element {
  const [asked, setAsked] = useState<string | null>(null);
  const commandsHere = outbox.value.filter(mine);
  const photosOfMine = photosHere.value.filter(mine);
  const stuck = commandsHere.filter(unanswered);
  const stuckPhotos = photosOfMine.filter(unanswered);
  const waiting = commandsHere.filter((one) => one.state === "waiting" && !unanswered(one));
  const photos = photosOfMine.filter((one) => one.state === "waiting" && !unanswered(one));
  const made = [...waiting, ...photos, ...stuck, ...stuckPhotos].map((one) => one.made_ms);
  return (
    <Screen title="Still on this phone" place="here">
      <div class="stack">
        <Strangers />
        {refusals.value.map((one) => (
          <RefusalPanel
            key={one.id}
            sentence={one.problem?.detail ?? "It was refused."}
            remedy={one.problem?.way_on}
            typed={`${commandWords(one.envelope)}. ${typedWords(one.envelope)}`}
          >
            <div class="row-of-buttons">
              {mendLink(one) ? (
                <MendIt of={one} />
              ) : (
                <LinkButton label="Open it" href={linkTo(one.envelope)} />
              )}
              <Button label="Let it go" onPress={() => void letGo(one.id)} />
            </div>
          </RefusalPanel>
        ))}
        {photosOfMine
          .filter((one) => one.state === "refused")
          .map((one) => (
            <RefusalPanel
              key={one.sha256}
              sentence={one.problem?.detail ?? "The photo was refused."}
              remedy={one.problem?.way_on}
              typed={`Photo, ${moment(one.made_ms)}`}
            >
              <Button label="Let it go" onPress={() => void letPhoto(one)} />
            </RefusalPanel>
          ))}
        {stuck.map(
          (one) =>
            one.in_vain && (
              <Unanswered
                key={one.id}
                inVain={one.in_vain}
                what={`${commandWords(one.envelope)}, ${moment(one.made_ms)}. ${typedWords(one.envelope)}`}
                onLetGo={() => void letGo(one.id)}
              />
            ),
        )}
        {stuckPhotos.map(
          (one) =>
            one.in_vain && (
              <Unanswered
                key={one.sha256}
                inVain={one.in_vain}
                what={`Photo, ${moment(one.made_ms)}`}
                onLetGo={() => void letPhoto(one)}
              />
            ),
        )}
        {made.length > 0 ? (
          <>
            <p>
              {made.length} not sent yet, the oldest for {age(Date.now() - Math.min(...made))}.
            </p>
            <ol class="stub-list">
              {waiting.map((one) => (
                <li key={one.id}>
                  <Stub word={commandWords(one.envelope)} />
                  <p class="t-dim">
                    {moment(one.made_ms)}. {typedWords(one.envelope)} {whyHere(one)}
                  </p>
                </li>
              ))}
              {photos.map((one) => (
                <li key={one.sha256}>
                  <Stub word="Photo" />
                  <p class="t-dim">
                    {moment(one.made_ms)}, {Math.ceil(one.bytes.byteLength / 1000)} kB. {whyHere(one)}
                  </p>
                </li>
              ))}
            </ol>
            <NoticeLine>Kept until the service has it.</NoticeLine>
            <MainButton
              label="Send now"
              onPress={async () =>
                setAsked((await sendAllNow()) ? null : "No answer. It stays here and is tried again.")
              }
            />
          </>
        ) : (
          waitingCount.value === 0 && <AllSent />
        )}
        <Others />
        {asked && <NoticeLine>{asked}</NoticeLine>}
        <Handover />
        <Storage />
      </div>
    </Screen>
  );
}
