/** What was said here and waits on this phone, with its picture, in the place where it will stand in the record. */

import type { JSX } from "preact";
import { mine, outbox } from "../../app/outbox";
import type { Envelope } from "../../wire/core";
import { Stub } from "../parts";
import { WaitingPhoto } from "../photo/Photo";
import { commandWords, typedWords } from "../words/commands";
import { moment } from "../words/times";

const SAID: readonly string[] = ["note.add", "snag.report", "deviation.propose"];

const hasWords = ({ kind, body }: Envelope): boolean =>
  SAID.includes(kind) || typeof body.photo === "string" || typeof body.note_text === "string";

export function StillHere({ of }: { of: (body: Record<string, unknown>) => boolean }): JSX.Element {
  const said = outbox.value.filter(
    (one) => one.state === "waiting" && mine(one) && of(one.envelope.body) && hasWords(one.envelope),
  );
  return (
    <>
      {said.map(({ id, made_ms, envelope }) => (
        <div key={id} class="stack">
          <p class="t-small t-dim">
            you, {moment(made_ms)}:{" "}
            {envelope.kind === "note.add"
              ? String(envelope.body.text ?? "")
              : `${commandWords(envelope)}. ${typedWords(envelope)}`}
          </p>
          {typeof envelope.body.photo === "string" && (
            <WaitingPhoto sha256={envelope.body.photo} about={commandWords(envelope)} />
          )}
          <Stub word="On this phone, waiting" />
        </div>
      ))}
    </>
  );
}
