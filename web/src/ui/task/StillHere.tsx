/** What was said here and waits on this phone, with its picture, in the place where it will stand in the record. */

import type { JSX } from "preact";
import { outbox } from "../../app/outbox";
import { Stub } from "../parts";
import { WaitingPhoto } from "../photo/Photo";
import { commandWords, typedWords } from "../words/commands";
import { moment } from "../words/times";

const SAID: readonly string[] = ["note.add", "snag.report", "deviation.propose"];

export function StillHere({ of }: { of: (body: Record<string, unknown>) => boolean }): JSX.Element {
  const said = outbox.value.filter(
    ({ state, envelope: { kind, body } }) =>
      state === "waiting" &&
      of(body) &&
      (SAID.includes(kind) || typeof body.photo === "string" || typeof body.note_text === "string"),
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
