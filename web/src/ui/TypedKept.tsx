/** What was typed with asks that were refused, or with a report that could be put nowhere: kept, and it doesn't count (R4). */

import type { JSX } from "preact";
import { Payload } from "./Payload";
import { Photo } from "./photo/Photo";
import { commandWords, typedFigures, typedTexts } from "./words/commands";

type Ask = Readonly<Record<string, unknown>>;

export function TypedKept({ asks }: { asks: readonly Ask[] }): JSX.Element {
  return (
    <ul class="stub-list">
      {asks.map((ask) => {
        const said = { kind: String(ask.kind), body: (ask.body ?? {}) as Record<string, unknown> };
        const photo = typeof said.body.photo === "string" ? said.body.photo : null;
        return (
          <li key={String(ask.id)}>
            <p class="t-dim">
              {commandWords(said)}. {typedFigures(said)}{" "}
              {typedTexts(said).map((id) => (
                <q key={id}>
                  <Payload id={id} />
                </q>
              ))}
            </p>
            <Photo id={photo} about={commandWords(said)} />
          </li>
        );
      })}
    </ul>
  );
}
