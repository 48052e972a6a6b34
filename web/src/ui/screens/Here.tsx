/** Still on this phone: what has not been sent, and what was refused, with what was typed. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { letGo, outbox } from "../../app/outbox";
import { sendNow } from "../../app/session";
import { link } from "../../sync/link";
import { Handover } from "../Handover";
import { Button, EmptyState, MainButton, NoticeLine, RefusalPanel, Stub } from "../parts";
import { Screen } from "../Screen";
import { commandWords, linkTo, typedWords } from "../words/commands";
import { age, moment } from "../words/times";

export default function Here(): JSX.Element {
  const [asked, setAsked] = useState<string | null>(null);
  const waiting = outbox.value.filter((one) => one.state === "waiting");
  const refused = outbox.value.filter((one) => one.state === "refused");
  const oldest = waiting[0];
  return (
    <Screen title="Still on this phone" place="here">
      <div class="stack">
        {refused.map((one) => (
          <RefusalPanel
            key={one.id}
            sentence={one.problem?.detail ?? "It was refused."}
            remedy={one.problem?.way_on}
            typed={`${commandWords(one.envelope)}. ${typedWords(one.envelope)}`}
          >
            <div class="row-of-buttons">
              <a class="button button-plain button-56" href={linkTo(one.envelope)}>
                Mend it
              </a>
              <Button label="Let it go" onPress={() => void letGo(one.id)} />
            </div>
          </RefusalPanel>
        ))}
        {oldest ? (
          <>
            <p>
              {waiting.length} not sent yet, the oldest for {age(Date.now() - oldest.made_ms)}.
            </p>
            <ol class="stub-list">
              {waiting.map((one) => (
                <li key={one.id}>
                  <Stub word={commandWords(one.envelope)} />
                  <p class="t-dim">
                    {moment(one.made_ms)}. {typedWords(one.envelope)}{" "}
                    {link.value.up ? "It is on its way." : "It waits for a connection."}
                  </p>
                </li>
              ))}
            </ol>
            <NoticeLine>
              Kept until the service has it. This browser may clear it if space runs out.
            </NoticeLine>
            <MainButton
              label="Send now"
              onPress={async () =>
                setAsked((await sendNow()) ? null : "No answer. It stays here and is tried again.")
              }
            />
            <Button
              label="Ask to keep it"
              onPress={async () => {
                const kept = await navigator.storage?.persist?.();
                setAsked(
                  kept ? "This browser will keep it." : "This browser makes no promise. Send it soon.",
                );
              }}
            />
          </>
        ) : (
          refused.length === 0 && <EmptyState sentence="All sent." />
        )}
        {asked && <NoticeLine>{asked}</NoticeLine>}
        <Handover />
      </div>
    </Screen>
  );
}
