/** What comes back when signed work was undone: the whole list, before it is confirmed (R26). */

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { nameOf } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import { go } from "../go";
import { Button, Choice, EmptyState, LoadingTags, RefusalPanel, TextField } from "../parts";
import { Screen } from "../Screen";
import { REASONS } from "../words/reasons";

type UndoView = components["schemas"]["UndoView"];
const WHAT: Record<string, string> = {
  sign_off: "sign-off",
  hold: "hold point",
  countersign: "countersign",
  check: "check",
};

function lines(view: UndoView): string[] {
  const back = view.comes_back;
  const name = (id: string): string => view.names[id] ?? id;
  return [
    ...(back.tasks_again ?? []).map((id) => `Ready again: ${id}, ${name(id)}`),
    ...(back.signatures ?? []).map(
      (one) => `Crossed out: ${nameOf(one.by)}'s ${WHAT[one.what] ?? one.what} of ${name(one.about)}`,
    ),
    ...(back.groups ?? []).map((id) => `No longer final: ${name(id)}`),
    ...(back.need_new ?? []).map(
      (one) => `New fasteners needed: ${name(one.group)}, bolt ${one.bolts.join(", ")}`,
    ),
    ...(back.loose_ends ?? []).map((one) => `Loose again: ${one.what}`),
    ...(back.waits_again ?? []).map((id) => `Waits again: ${id}, ${name(id)}`),
    ...(back.built_on ?? []).map((id) => `Built on it: ${id}, ${name(id)}`),
  ];
}

export default function Undo({ what, id }: { what: string; id: string }): JSX.Element {
  const answer = useView<UndoView>(`/undo?${what === "group" ? "group" : "task"}=${encodeURIComponent(id)}`);
  const view = answer.data;
  const [reason, setReason] = useState<string | undefined>(undefined);
  const [note, setNote] = useState("");
  const [shown, setShown] = useState<string | null>(null);
  const asking = useNow();
  const leave = useRef<HTMLDivElement>(null);
  useEffect(() => leave.current?.querySelector("button")?.focus(), [view === null]);
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
  if (!view) {
    return (
      <Screen title="Undo" place="queue">
        {link.value.up && !answer.problem ? (
          <LoadingTags sentence="Working out what comes back" />
        ) : (
          <EmptyState sentence="What comes back can't be worked out here. Report a loose end now; undo when connected." />
        )}
        {ways}
      </Screen>
    );
  }
  const gates = view.comes_back.gates_shut ?? [];
  return (
    <Screen title={`You undo ${view.title}. This comes back:`} place="queue">
      <div class="stack">
        {changed && <RefusalPanel sentence="The list has changed." remedy="Read it again." />}
        {!view.may_undo && <EmptyState sentence="Nothing here is signed; there is nothing to undo." />}
        {gates.map((gate) => (
          <RefusalPanel key={gate} sentence={`The gate closes: ${view.names[gate] ?? gate}.`} />
        ))}
        <ul class="place-list">
          {lines(view).map((line) => (
            <li key={line} class="place-line">
              {line}
            </li>
          ))}
        </ul>
        <Choice
          legend="Why?"
          chosen={reason}
          onChoose={setReason}
          options={REASONS.filter((one) => ["does_not_fit", "damaged", "no_part", "other"].includes(one.key))}
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
          blocked={
            !view.may_undo
              ? "nothing is signed"
              : !link.value.up
                ? "no connection"
                : asking.busy
                  ? "one moment"
                  : undefined
          }
          onPress={async () => {
            if (changed) {
              setShown(view.list_digest);
              return;
            }
            const path = what === "group" ? `/groups/${id}/undo` : `/tasks/${id}/undo`;
            const body = {
              reason: reason ?? "other",
              list_digest: view.list_digest,
              ...(note.trim() ? { note_text: note.trim() } : {}),
            };
            if (await asking.ask(path, body, { seen: true })) go(back);
          }}
        />
      </div>
    </Screen>
  );
}
