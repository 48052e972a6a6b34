/** Signed work was undone: what comes back is shown before it is confirmed (R26). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import { go } from "../go";
import { Button, Choice, EmptyState, LoadingTags, MainButton, RefusalPanel, TextField } from "../parts";
import { AsOf, Screen } from "../Screen";
import { REASONS } from "../words/reasons";

type UndoView = components["schemas"]["UndoView"];

const SIGNED_WORDS: Record<string, string> = {
  sign_off: "sign-off",
  hold: "hold point signature",
  countersign: "countersign",
  check: "check",
};

function Part({ title, lines }: { title: string; lines: string[] }): JSX.Element | null {
  if (lines.length === 0) return null;
  return (
    <section>
      <h2>{title}</h2>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}

function ComesBack({ view }: { view: UndoView }): JSX.Element {
  const back = view.comes_back;
  const name = (id: string | null | undefined): string => (id ? (view.names[id] ? `${id} ${view.names[id]}` : id) : "");
  return (
    <div class="stack">
      <Part title="Ready again" lines={back.tasks_again.map(name)} />
      <Part
        title="Signatures crossed out"
        lines={back.signatures.map((one) => `${nameOf(one.by)}: ${SIGNED_WORDS[one.what] ?? one.what}, ${name(one.about)}`)}
      />
      <Part title="Bolt groups no longer final" lines={back.groups.map(name)} />
      <Part
        title="Fit new fasteners"
        lines={back.need_new.map((one) => `${name(one.group)}: bolts ${one.bolts.join(", ")}`)}
      />
      <Part title="Loose ends that open" lines={back.loose_ends.map((one) => one.what)} />
      <Part title="Gates that shut" lines={back.gates_shut.map(name)} />
      <Part title="Waits again" lines={back.waits_again.map(name)} />
      <Part title="Built on undone work" lines={back.built_on.map(name)} />
    </div>
  );
}

export default function Undo({ what, id }: { what: string; id: string }): JSX.Element {
  const group = what === "group";
  const answer = useView<UndoView>(`/undo?${group ? "group" : "task"}=${encodeURIComponent(id)}`);
  const asking = useNow();
  const [reason, setReason] = useState<string | undefined>(undefined);
  const [note, setNote] = useState("");
  const view = answer.data;
  const home = group ? `/groups/${id}` : `/tasks/${id}`;
  async function undo(): Promise<void> {
    if (!view) return;
    const done = await asking.ask(
      `/${group ? "groups" : "tasks"}/${id}/undo`,
      { reason, list_digest: view.list_digest, ...(note.trim() ? { note_text: note.trim() } : {}) },
      { seen: true },
    );
    if (done) go(home);
  }
  return (
    <Screen
      title={view ? `This was undone: ${view.title}` : "This was undone"}
      place="queue"
      work={
        <>
          <Button label="Leave it as it is" size={72} first onPress={() => go(home)} />
          {view?.may_undo && (
            <MainButton
              label="Undo it"
              blocked={asking.busy ? "one moment" : reason ? undefined : "say why"}
              onPress={() => void undo()}
            />
          )}
        </>
      }
    >
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        {!view &&
          (answer.problem ? (
            <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
          ) : (
            <LoadingTags sentence="Working out what comes back" />
          ))}
        {view && !view.may_undo && <EmptyState sentence="Nothing here is signed. There is nothing to undo." />}
        {view?.may_undo && (
          <>
            <p>This comes back. Nothing is deleted: the book keeps what was signed, crossed out.</p>
            <ComesBack view={view} />
            <Choice legend="Why?" options={REASONS} chosen={reason} onChoose={setReason} />
            <TextField label="In your own words, if you like" value={note} onType={setNote} lines maxLength={2000} />
          </>
        )}
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
      </div>
    </Screen>
  );
}
