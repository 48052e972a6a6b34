/** A date that the lead says and may take back: by when a gate is wanted, when a part should arrive. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch, pending } from "../../app/outbox";
import { Button, Stub, TextField } from "../parts";
import { dayWords } from "../words/days";

export interface DateSaidProps {
  /** "Wanted by" */
  label: string;
  /** The date as it stands, ISO; null: none. */
  on: string | null | undefined;
  kind: "gate.want" | "part.expect";
  about: { gate: string } | { part: string };
  /** Said after the label by a screen reader where several stand on one screen. */
  whose: string;
  lead: boolean;
}

export function DateSaid(props: DateSaidProps): JSX.Element | null {
  const { label, on, kind, about, whose, lead } = props;
  const [typed, setTyped] = useState(on ?? "");
  const waits = pending(kind, { ...about }).length > 0;
  if (!lead) {
    return on ? (
      <p>
        {label} {dayWords(on)}.
      </p>
    ) : null;
  }
  const say = (date: string | null) => void dispatch(kind, { ...about, on: date });
  return (
    <div class="stack">
      <TextField
        label={on ? `${label} ${dayWords(on)}` : label}
        kind="date"
        value={typed}
        onType={setTyped}
      />
      {waits && <Stub word="Said, on this phone only" />}
      <div class="row-of-buttons">
        <Button
          label="Say this date"
          heard={`Say this date, ${whose}`}
          blocked={typed ? (typed === on ? "it stands already" : undefined) : "choose a date"}
          onPress={() => say(typed)}
        />
        {on && (
          <Button
            label="No date"
            heard={`No date, ${whose}`}
            onPress={() => {
              setTyped("");
              say(null);
            }}
          />
        )}
      </div>
    </div>
  );
}
