/** The emergency card: what to read out, who is in. Works without a connection. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { build, fullNameOf, me } from "../../app/session";
import { fact, setFact } from "../../local/store";
import { Button, TextField } from "../parts";
import { Screen } from "../Screen";

interface Card {
  address: string;
  first_aid: string;
  extinguishers: string;
}

const EMPTY: Card = { address: "", first_aid: "", extinguishers: "" };

export default function Emergency(): JSX.Element {
  const [card, setCard] = useState<Card>(EMPTY);
  const [editing, setEditing] = useState(false);
  const name = `card:${build.value?.id ?? ""}`;
  useEffect(() => {
    void fact<Card>(name).then((kept) => kept && setCard(kept));
  }, [name]);
  const members = [...rows("member").values()].filter((one) => one.in_since_ms);
  const visits = [...rows("visit").values()].filter((one) => !one.out_ms);
  const beneath = [...rows("under").values()];
  return (
    <Screen title="Emergency card" place="emergency">
      <div class="stack">
        <p class="t-strong">Call the emergency number of the place you are in. Read out:</p>
        <p class="t-arm">{card.address || "The address is not written here yet."}</p>
        <p>First aid: {card.first_aid || "not written yet"}</p>
        <p>Extinguishers: {card.extinguishers || "not written yet"}</p>
        {beneath.length > 0 && (
          <p class="t-strong">Under the car: {beneath.map((one) => fullNameOf(one.id)).join(", ")}</p>
        )}
        <h2>In now: {members.length + visits.length}</h2>
        <ul>
          {members.map((one) => (
            <li key={one.id}>{fullNameOf(one.id)}</li>
          ))}
          {visits.map((one) => (
            <li key={one.id}>A {one.what}</li>
          ))}
        </ul>
        {me.value && !editing && <Button label="Write this card" onPress={() => setEditing(true)} />}
        {editing && (
          <>
            <p class="t-dim">Kept on this phone. Write it on each phone of the crew.</p>
            <TextField
              label="Address to read out"
              value={card.address}
              onType={(address) => setCard({ ...card, address })}
              lines
            />
            <TextField
              label="First aider and box"
              value={card.first_aid}
              onType={(first_aid) => setCard({ ...card, first_aid })}
            />
            <TextField
              label="Extinguishers"
              value={card.extinguishers}
              onType={(extinguishers) => setCard({ ...card, extinguishers })}
            />
            <Button
              label="Keep it"
              kind="act"
              onPress={() => {
                void setFact(name, card);
                setEditing(false);
              }}
            />
          </>
        )}
      </div>
    </Screen>
  );
}
