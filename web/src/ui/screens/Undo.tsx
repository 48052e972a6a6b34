/** What comes back when signed work was undone: the whole list, before it is confirmed (R26). */

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { nameOf } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import { Fetching } from "../Fetching";
import { kindWord } from "../gates/Strip";
import { go } from "../go";
import { Button, Choice, EmptyState, LinkButton, RefusalPanel, TapeStrip, TextField } from "../parts";
import { Screen } from "../Screen";
import { REASONS } from "../words/reasons";

type UndoView = components["schemas"]["UndoView"];
const WHAT: Record<string, string> = {
  sign_off: "sign-off",
  hold: "hold point",
  countersign: "countersign",
  check: "check",
  landed: "signature as landed",
};
const WHY = ["does_not_fit", "damaged", "no_part", "other"];

function Part({ title, lines }: { title: string; lines: readonly string[] }): JSX.Element | null {
  if (lines.length === 0) return null;
  return (
    <section class="stack" aria-label={title}>
      <h2>{title}</h2>
      <ul class="place-list">
        {lines.map((line) => (
          <li key={line} class="place-line">
            {line}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** One strip each, the gates first: they are what cannot be done meanwhile. */
function ComesBack({ view }: { view: UndoView }): JSX.Element {
  const back = view.comes_back;
  const name = (id: string): string => (view.names[id] ? `${id}, ${view.names[id]}` : id);
  const title = (id: string): string => view.names[id] ?? id;
  return (
    <>
      {(back.gates_shut ?? []).map((gate) => (
        <p key={gate} class="halt-line">
          <strong>The gate closes: {title(gate)}</strong>
        </p>
      ))}
      <Part title="Ready again" lines={(back.tasks_again ?? []).map(name)} />
      <Part
        title="Crossed out"
        lines={(back.signatures ?? []).map(
          (one) => `${possessive(one.by)} ${WHAT[one.what] ?? one.what}: ${title(one.about)}`,
        )}
      />
      <Part title="To be lifted again" lines={(back.lifts_again ?? []).map(title)} />
      <Part title="No longer final" lines={(back.groups ?? []).map(title)} />
      <Part
        title="New fasteners needed"
        lines={(back.need_new ?? []).map((one) => `${title(one.group)}: bolt ${one.bolts.join(", ")}`)}
      />
      {(back.loose_ends ?? []).length > 0 && (
        <section class="stack" aria-label="Loose again">
          <h2>Loose again</h2>
          {(back.loose_ends ?? []).map((one) => (
            <TapeStrip
              key={`${one.kind}${one.about}${one.what}`}
              kind={kindWord(one.kind)}
              what={one.what}
              where={one.gate ? `Holds ${title(one.gate)}` : undefined}
            />
          ))}
        </section>
      )}
      <Part title="Waits again" lines={(back.waits_again ?? []).map(name)} />
      <Part title="Built on this" lines={(back.built_on ?? []).map(name)} />
    </>
  );
}

/** "Your", "Aled's" */
function possessive(person: string): string {
  const name = nameOf(person);
  return name === "you" ? "Your" : `${name}'s`;
}

export default function Undo({ what, id }: { what: string; id: string }): JSX.Element {
  const answer = useView<UndoView>(`/undo?${what === "group" ? "group" : "task"}=${encodeURIComponent(id)}`);
  const view = answer.data;
  const [reason, setReason] = useState<string | undefined>(undefined);
  const [note, setNote] = useState("");
  const [shown, setShown] = useState<string | null>(null);
  const asking = useNow();
  const leave = useRef<HTMLDivElement>(null);
  const known = view !== null;
  useEffect(() => {
    if (known) leave.current?.querySelector("button")?.focus({ preventScroll: true });
  }, [known]);
  const back = what === "group" ? `/groups/${id}` : `/tasks/${id}`;
  const changed = view !== null && shown !== null && shown !== view.list_digest;
  useEffect(() => {
    if (view && shown === null) setShown(view.list_digest);
  }, [view, shown]);
  const ways = (
    <div ref={leave}>
      <Button label="Leave it as it is" size={72} wide onPress={() => go(back)} />
    </div>
  );
  if (!view || !link.value.up) {
    return (
      <Screen opened title="Undo" place="queue">
        {!link.value.up ? (
          <EmptyState sentence="What comes back can't be worked out here. Report it now; undo when connected.">
            {what === "group" && (
              <Button
                label="All its fasteners are loose"
                size={64}
                wide
                onPress={() => {
                  const bolts = (rows("group").get(id)?.bolts ?? []).map((one) => one.n);
                  void dispatch("torque.report_loosened", { group: id, bolts });
                  go(back);
                }}
              />
            )}
            <LinkButton label="Report a loose end" href="/loose-ends" size={64} wide />
          </EmptyState>
        ) : answer.problem ? (
          <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
        ) : (
          <Fetching sentence="Working out what comes back" />
        )}
        {ways}
      </Screen>
    );
  }
  if (!view.may_undo) {
    return (
      <Screen opened title={`Undo: ${view.title}`} place="queue">
        <EmptyState sentence="Nothing here is signed; there is nothing to undo." />
        {ways}
      </Screen>
    );
  }
  const list = view;
  async function undo(): Promise<void> {
    const path = what === "group" ? `/groups/${id}/undo` : `/tasks/${id}/undo`;
    const body = {
      reason: reason ?? "other",
      list_digest: list.list_digest,
      ...(note.trim() ? { note_text: note.trim() } : {}),
    };
    if (await asking.ask(path, body, { seen: true })) go(back);
  }
  return (
    <Screen opened title={`You undo ${view.title}. This comes back:`} place="queue">
      <div class="stack">
        {changed && (
          <RefusalPanel sentence="The list has changed." remedy="Read it again, then press again.">
            <Button label="I have read the new list" size={56} onPress={() => setShown(view.list_digest)} />
          </RefusalPanel>
        )}
        <ComesBack view={view} />
        <Choice
          legend="Why?"
          chosen={reason}
          onChoose={setReason}
          options={REASONS.filter((one) => WHY.includes(one.key))}
        />
        <TextField
          label="In your own words, if you like"
          value={note}
          onType={setNote}
          lines
          maxLength={2000}
        />
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        {ways}
        <Button
          label="Undo it"
          size={72}
          wide
          blocked={changed ? "the list has changed" : asking.busy ? "one moment" : undefined}
          onPress={() => void undo()}
        />
      </div>
    </Screen>
  );
}
