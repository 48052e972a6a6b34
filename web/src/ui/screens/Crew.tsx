/** Who is here, who can do what. Never a limit. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { inSince, isIn } from "../../app/presence";
import { actor, fullNameOf, iLead, iLeadToday, me, nameOf } from "../../app/session";
import { isUnder } from "../../app/under";
import { movedWords, useAddress } from "../address";
import { CalendarAddress } from "../days/CalendarAddress";
import { Button, Dialog, EmptyState, LinkButton, MainButton, NoticeLine, TextField } from "../parts";
import { Screen } from "../Screen";
import { roleWords, skillWords } from "../words/crew";
import { moment } from "../words/times";

function VisitorForm({ onDone }: { onDone: () => void }): JSX.Element {
  const [name, setName] = useState("");
  const add = (what: "visitor" | "child") => {
    void dispatch("crew.visitor_in", { what, ...(name.trim() ? { name_text: name.trim() } : {}) });
    onDone();
  };
  return (
    <div class="stack">
      <TextField label="Name (may stay empty)" value={name} onType={setName} maxLength={60} />
      <div class="row-of-buttons">
        <Button label="A visitor is in" onPress={() => add("visitor")} />
        <Button label="A child is in" onPress={() => add("child")} />
      </div>
    </div>
  );
}

function signOut(): void {
  void dispatch("crew.sign_out", {});
}

/** Whoever signs out while marked under the car is asked first: the mark keeps others' work waiting (R27). */
function OutFirst({ onClose }: { onClose: () => void }): JSX.Element {
  return (
    <Dialog
      open
      title="Are you out from under the car?"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide first onPress={onClose} />}
    >
      <div class="stack">
        <p>
          You said that you are under it. Until you say that you are out, nobody may jack it up, crank it or
          connect the battery.
        </p>
        <MainButton
          label="I'm out, sign me out"
          onPress={() => {
            void dispatch("hazard.out", {}).then(signOut);
            onClose();
          }}
        />
      </div>
    </Dialog>
  );
}

export default function Crew(): JSX.Element {
  const [visiting, setVisiting] = useState(false);
  const [leaving, setLeaving] = useState(false);
  const address = useAddress();
  const person = actor.value;
  const mine = rows("member").get(person ?? "");
  const members = [...rows("member").values()]
    .filter((one) => !one.left)
    .sort((a, b) => fullNameOf(a.id).localeCompare(fullNameOf(b.id)));
  const inToday = members.filter((one) => isIn(one));
  const since = inSince(mine);
  const visits = [...rows("visit").values()].filter((one) => !one.out_ms);
  const lead = iLead();
  return (
    <Screen title="Crew" place="crew">
      <div class="stack">
        {since ? (
          <div class="row-of-buttons">
            <NoticeLine>
              {person === me.value?.person ? "You are" : `${nameOf(person)} is`} in since {moment(since)}.
            </NoticeLine>
            <Button
              label="Sign out for the day"
              onPress={() => (isUnder(person) ? setLeaving(true) : signOut())}
            />
          </div>
        ) : (
          <Button
            label="Sign in for the day"
            kind="act"
            size={72}
            wide
            onPress={() => void dispatch("crew.sign_in", {})}
          />
        )}
        <h2>In today: {inToday.length + visits.length}</h2>
        {inToday.length === 0 && visits.length === 0 && <EmptyState sentence="Nobody has signed in yet." />}
        <ul class="place-list">
          {visits.map((one) => (
            <li key={one.id} class="place-line">
              <span class="place-word">A {one.what}</span>
              <span class="place-second">in since {moment(one.in_since_ms)}</span>
              <Button
                label="Gone"
                size={48}
                onPress={() => void dispatch("crew.visitor_out", { visit: one.id })}
              />
            </li>
          ))}
        </ul>
        {visiting ? (
          <VisitorForm onDone={() => setVisiting(false)} />
        ) : (
          <Button label="Note a visitor or a child" onPress={() => setVisiting(true)} />
        )}
        {lead && address && address.moved.length > 0 && (
          <div class="card">
            <p>
              <strong>{movedWords(address).join(" ")}</strong> Open each person below and give them a code for
              a new phone. What they have not sent is still at the old address: <i>Still on this phone</i>,{" "}
              <i>Save it as a file</i>.
            </p>
          </div>
        )}
        {lead && address?.warnings.map((one) => <NoticeLine key={one}>{one}</NoticeLine>)}
        <h2>Members</h2>
        {members.length === 1 && <EmptyState sentence="Only you so far." />}
        <ul class="place-list">
          {members.map((one) => (
            <li key={one.id}>
              <a class="place-line" href={one.id === me.value?.person ? "/crew/me" : `/crew/${one.id}`}>
                <span class="place-word">
                  {fullNameOf(one.id)}
                  {isIn(one) ? " · in" : ""}
                </span>
                <span class="place-second">
                  {[roleWords(one), skillWords(one)].filter(Boolean).join(" · ")}
                </span>
              </a>
            </li>
          ))}
        </ul>
        {lead && (
          <details class="fold">
            <summary>The crew's calendar</summary>
            <CalendarAddress whose="crew" />
          </details>
        )}
        {iLeadToday() && <LinkButton label="Invite someone" kind="act" size={72} wide href="/crew/invite" />}
        {leaving && <OutFirst onClose={() => setLeaving(false)} />}
      </div>
    </Screen>
  );
}
