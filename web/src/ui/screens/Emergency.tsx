/** The emergency card: what to read out, who is in. Written once for the crew, kept on every phone. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { useWords } from "../../app/payloads";
import { membersIn } from "../../app/presence";
import { actor, fullNameOf, iLead } from "../../app/session";
import { isUnder, peopleUnder } from "../../app/under";
import { OutILooked } from "../Beneath";
import { Button, MainButton, Stub, TextField } from "../parts";
import { Screen } from "../Screen";

interface Card {
  address: string;
  first_aid: string;
  extinguishers: string;
}

/** What stands on the card: this phone's own unsent writing first. */
function useCard(): { card: Card; unsent: boolean } {
  const kept = rows("build").get("build")?.emergency;
  const address = useWords(kept?.address);
  const firstAid = useWords(kept?.first_aid);
  const extinguishers = useWords(kept?.extinguishers);
  const own = pending("emergency.write").at(-1)?.envelope.body;
  const said = (name: string) => String(own?.[`${name}_text`] ?? "");
  if (own)
    return {
      card: {
        address: said("address"),
        first_aid: said("first_aid"),
        extinguishers: said("extinguishers"),
      },
      unsent: true,
    };
  const shown = (words: typeof address) => words?.text ?? words?.instead ?? "";
  return {
    card: { address: shown(address), first_aid: shown(firstAid), extinguishers: shown(extinguishers) },
    unsent: false,
  };
}

function Write(props: { before: Card; onDone: () => void }): JSX.Element {
  const [card, setCard] = useState<Card>(props.before);
  const text = (name: keyof Card) => (card[name].trim() ? { [`${name}_text`]: card[name].trim() } : {});
  return (
    <div class="stack">
      <TextField
        label="Address to read out"
        help="With what a driver needs: the gate, the yard, the door"
        value={card.address}
        onType={(address) => setCard({ ...card, address })}
        maxLength={400}
        lines
      />
      <TextField
        label="First aider, and where the box is"
        value={card.first_aid}
        onType={(first_aid) => setCard({ ...card, first_aid })}
        maxLength={200}
      />
      <TextField
        label="Extinguishers, and for what"
        value={card.extinguishers}
        onType={(extinguishers) => setCard({ ...card, extinguishers })}
        maxLength={200}
      />
      <MainButton
        label="Keep it"
        blocked={card.address.trim() ? undefined : "the address is missing"}
        onPress={() => {
          void dispatch("emergency.write", {
            ...text("address"),
            ...text("first_aid"),
            ...text("extinguishers"),
          });
          props.onDone();
        }}
      />
      <Button label="Leave it as it is" kind="quiet" onPress={props.onDone} />
    </div>
  );
}

export default function Emergency(): JSX.Element {
  const { card, unsent } = useCard();
  const [editing, setEditing] = useState(false);
  const members = membersIn();
  const visits = [...rows("visit").values()].filter((one) => !one.out_ms);
  const beneath = peopleUnder();
  const mine = rows("member").get(actor.value ?? "");
  const lead = iLead();
  return (
    <Screen title="Emergency card" place="emergency">
      <div class="stack">
        <p class="t-strong">Call the emergency number of the place you are in. Read out:</p>
        <p class="t-arm">
          {card.address || (lead ? "The address is not written here yet." : "Ask the lead for the address.")}
        </p>
        <p>First aid: {card.first_aid || "not written yet"}</p>
        <p>Extinguishers: {card.extinguishers || "not written yet"}</p>
        {unsent && <Stub word="Written, on this phone only" />}
        {beneath.length > 0 && (
          <>
            <p class="t-strong">Under the car: {beneath.map(fullNameOf).join(", ")}</p>
            {beneath.map((person) => (
              <OutILooked key={person} person={person} />
            ))}
          </>
        )}
        {mine && mine.role !== "viewer" && !isUnder(mine.id) && (
          <Button label="I'm under" size={64} onPress={() => void dispatch("hazard.under", {})} />
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
        {lead && !editing && (
          <Button
            label={card.address ? "Change this card" : "Write this card"}
            onPress={() => setEditing(true)}
          />
        )}
        {editing && <Write before={card} onDone={() => setEditing(false)} />}
      </div>
    </Screen>
  );
}
