/** Without a link the roll goes by voice; afterwards it is reported as it was, and marked so (R18). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { fullNameOf, nameOf } from "../../app/session";
import { link } from "../../sync/link";
import { Button, Field, TextField } from "../parts";
import type { LiftView } from "./Drawing";

function Who({
  say,
  person,
  onChoose,
}: {
  say: string;
  person: string;
  onChoose: (person: string) => void;
}): JSX.Element {
  const crew = [...rows("member").values()]
    .filter((one) => !one.left || one.id === person)
    .sort((a, b) => fullNameOf(a.id).localeCompare(fullNameOf(b.id)));
  return (
    <Field label={say}>
      {({ id, describedBy }) => (
        <select
          id={id}
          class="text-input"
          aria-describedby={describedBy}
          value={person}
          onChange={(e) => onChoose(e.currentTarget.value)}
        >
          <option value="">nobody stood there</option>
          {crew.map((one) => (
            <option key={one.id} value={one.id}>
              {fullNameOf(one.id)}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

export function ByVoiceButton({ onPress }: { onPress: () => void }): JSX.Element {
  return <Button label="By voice, without a link" size={56} wide onPress={onPress} />;
}

/** The roll as a list to read aloud, then the report of it. */
export function ByVoice({ view }: { view: LiftView }): JSX.Element {
  const [stood, setStood] = useState<Record<string, string>>({});
  const [lifted, setLifted] = useState("");
  const [down, setDown] = useState("");
  const who = (place: LiftView["places"][number]): string => stood[place.place] ?? place.person ?? "";
  // The two moments are typed on this phone's clock; the service's differs by the known offset.
  const lifted_ms = new Date(lifted).getTime() + link.value.offset_ms;
  const set_down_ms = new Date(down).getTime() + link.value.offset_ms;
  const now = Date.now() + link.value.offset_ms;
  const blocked =
    Number.isNaN(lifted_ms) || Number.isNaN(set_down_ms)
      ? "say when it went up and down"
      : set_down_ms < lifted_ms
        ? "it can't be down before it was up"
        : set_down_ms > now
          ? "that is still to come"
          : undefined;
  return (
    <section class="stack card" aria-label="By voice">
      <p>Read the names aloud. Stop by voice. When it is down, report it as it was.</p>
      <ol class="briefing t-strong">
        {view.places.map((place) => (
          <li key={place.place}>
            {place.say}: {place.person ? nameOf(place.person) : "nobody yet"}
          </li>
        ))}
      </ol>
      <p>Children out. Nobody beneath. The stop word is “{view.stop_word}”.</p>
      <h3>Who stood where</h3>
      {view.places.map((place) => (
        <Who
          key={place.place}
          say={place.say}
          person={who(place)}
          onChoose={(person) => setStood({ ...stood, [place.place]: person })}
        />
      ))}
      <TextField label="It went up" kind="datetime-local" value={lifted} onType={setLifted} />
      <TextField label="It was set down" kind="datetime-local" value={down} onType={setDown} />
      <Button
        label="Report it landed"
        size={72}
        wide
        blocked={blocked}
        onPress={() => {
          const places = Object.fromEntries(
            view.places.map((place) => [place.place, who(place)]).filter(([, person]) => person),
          );
          void dispatch("lift.report_by_voice", { lift: view.id, places, lifted_ms, set_down_ms });
        }}
      />
    </section>
  );
}
