/** After the lift: set down, signed by one more who was there, what is propped, what went badly (R22). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import { Payload } from "../Payload";
import { Button, MainButton, NoticeLine, Stub, TapeStrip, WordsDialog } from "../parts";
import { Photo } from "../photo/Photo";
import { AddNote, ReportSnag } from "../task/Reports";
import { StillHere } from "../task/StillHere";
import { filled } from "../words/reason";
import { moment } from "../words/times";
import type { LiftView } from "./Drawing";

function Elsewhere({ view, onClose }: { view: LiftView; onClose: () => void }): JSX.Element {
  return (
    <WordsDialog
      title="It landed elsewhere"
      said="Where it stands now is a loose end until it is where the plan wants it."
      label="Where does it stand?"
      short
      confirmLabel="Write it down"
      missing="say where"
      onConfirm={(elsewhere_text) => {
        void dispatch("lift.set_down", { lift: view.id, elsewhere_text });
        onClose();
      }}
      onClose={onClose}
    />
  );
}

/** The main button after setting down: one more who was there signs. */
export function SignLanded({ view }: { view: LiftView }): JSX.Element {
  const there = view.can.includes("lift.sign_landed");
  const said = pending("lift.sign_landed", { lift: view.id }).length > 0;
  if (said) return <Stub word="Signed as landed, on this phone only" />;
  return (
    <MainButton
      label="Sign as landed"
      blocked={there ? undefined : "someone else who was there must sign"}
      onPress={() => void dispatch("lift.sign_landed", { lift: view.id })}
    />
  );
}

export function After({ view }: { view: LiftView }): JSX.Element {
  const [open, setOpen] = useState<"elsewhere" | "note" | "snag" | null>(null);
  const close = () => setOpen(null);
  const row = rows("lift").get(view.id);
  const propped = [...rows("loose_end").values()].filter(
    (end) => !end.closed && end.plan_id && row?.plan.propped?.includes(end.plan_id),
  );
  const notes = [...rows("note").values()].filter(
    (note) => note.about_kind === "lift" && note.about === view.id,
  );
  const mine = view.set_down?.by === me.value?.person;
  return (
    <section class="stack" aria-label="After the lift">
      {view.set_down && (
        <p>
          Set down, said by {nameOf(view.set_down.by)}, {moment(view.set_down.at_ms)}
          {view.by_voice ? ", by voice, reported afterwards" : ""}
          {view.set_down_by_caller ? "" : ", for the caller"}.
        </p>
      )}
      {view.voice_marks.map((mark) => (
        <NoticeLine key={mark.code}>{filled(mark.says, mark.params ?? {})}</NoticeLine>
      ))}
      {view.landed && (
        <p class="t-strong">
          Landed, signed by {nameOf(view.landed.by)}, {moment(view.landed.at_ms)}
        </p>
      )}
      {view.landed_elsewhere && (
        <p>
          It landed elsewhere: <Payload id={view.landed_elsewhere} />
        </p>
      )}
      {propped.map((end) => (
        <TapeStrip
          key={end.id}
          kind="Propped"
          what={end.what}
          where={end.where ?? undefined}
          restoring={end.restores_task ? `Made good by ${end.restores_task}.` : undefined}
        />
      ))}
      {notes.map((note) => (
        <div key={note.id} class="stack">
          <p>
            <Payload id={note.text} /> <span class="t-dim">{nameOf(note.by)}</span>
          </p>
          <Photo id={note.photo} row={note.id} about={`Note by ${nameOf(note.by)}`} />
        </div>
      ))}
      <StillHere of={({ about_kind, about }) => about_kind === "lift" && about === view.id} />
      {!view.landed && mine && !view.landed_elsewhere && (
        <Button label="It landed elsewhere" size={56} wide onPress={() => setOpen("elsewhere")} />
      )}
      {view.my_places.length > 0 || row?.there?.includes(me.value?.person ?? "") ? (
        <fieldset class="stack">
          <legend class="field-label">What went badly?</legend>
          <div class="two-up">
            <Button label="Note" heard="Note: what went badly" onPress={() => setOpen("note")} />
            <Button label="Report a snag" onPress={() => setOpen("snag")} />
          </div>
        </fieldset>
      ) : null}
      {open === "elsewhere" && <Elsewhere view={view} onClose={close} />}
      {open === "note" && <AddNote about={{ kind: "lift", id: view.id }} onClose={close} />}
      {open === "snag" && <ReportSnag task={rows("task").get(row?.task ?? "")} onClose={close} />}
    </section>
  );
}
