/** Who is here, who can do what. Never a limit. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { actor, build, fullNameOf, me, typingFor } from "../../app/session";
import { movedWords, useAddress } from "../address";
import { CalendarAddress } from "../days/CalendarAddress";
import { Button, EmptyState, LinkButton, NoticeLine, TextField } from "../parts";
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

export default function Crew(): JSX.Element {
  const [visiting, setVisiting] = useState(false);
  const address = useAddress();
  const mine = rows("member").get(me.value?.person ?? "");
  const whose = rows("member").get(actor.value ?? "");
  const members = [...rows("member").values()]
    .filter((one) => !one.left)
    .sort((a, b) => fullNameOf(a.id).localeCompare(fullNameOf(b.id)));
  const inToday = members.filter((one) => one.in_since_ms);
  const visits = [...rows("visit").values()].filter((one) => !one.out_ms);
  const lead = build.value?.role === "lead" || mine?.role === "lead";
  return (
    <Screen title="Crew" place="crew">
      <div class="stack">
        {whose?.in_since_ms ? (
          <div class="row-of-buttons">
            <NoticeLine>
              {typingFor.value ? `${fullNameOf(typingFor.value)} is` : "You are"} in since{" "}
              {moment(whose.in_since_ms)}.
            </NoticeLine>
            <Button label="Sign out for the day" onPress={() => void dispatch("crew.sign_out", {})} />
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
                  {one.in_since_ms ? " · in" : ""}
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
        {lead && <LinkButton label="Invite someone" kind="act" size={72} wide href="/crew/invite" />}
      </div>
    </Screen>
  );
}
