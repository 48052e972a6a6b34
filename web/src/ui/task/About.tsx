/** What is around a task: its deviations, snags, notes, kept evidence. */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { madeHere } from "../../app/outbox";
import { actor, nameOf } from "../../app/session";
import type { TaskRow } from "../../app/tasks";
import type { RowKinds } from "../../wire/rows";
import { Payload } from "../Payload";
import { RefusalPanel } from "../parts";
import { Photo } from "../photo/Photo";
import { TypedKept } from "../TypedKept";
import { moment } from "../words/times";
import { capital } from "../words/who";
import { Differently } from "./Differently";
import { SnagLine } from "./SnagLine";
import { StillHere } from "./StillHere";

/** A refused *Take it* by itself says nothing that anybody would look for again. */
const BARE: readonly unknown[] = ["task.take", "task.take_over", "task.join", "task.go_on", "task.sign_off"];

function typedIn(evidence: RowKinds["evidence"]): readonly Record<string, unknown>[] {
  return (evidence.asks ?? []).filter((ask) => !BARE.includes(ask.kind));
}

export function About({ task }: { task: TaskRow }): JSX.Element {
  const deviations = [...rows("deviation").values()].filter((one) => one.task === task.id);
  const snags = [...rows("snag").values()].filter((one) => one.task === task.id && !one.put_right);
  const notes = [...rows("note").values()].filter(
    (one) => one.about_kind === "task" && one.about === task.id,
  );
  const evidence = [...rows("evidence").values()].filter(
    (one) => one.task === task.id && typedIn(one).length > 0,
  );
  return (
    <>
      {deviations.map((one) => (
        <Differently key={one.id} one={one} task={task} />
      ))}
      {snags.map((one, index) => (
        <SnagLine key={one.id} one={one} number={index + 1} />
      ))}
      {notes.map((one) => (
        <div key={one.id} class="stack">
          <p class="t-small t-dim">
            {capital(nameOf(one.by))}, {moment(one.at_ms)}:{" "}
            <Payload id={one.text} meanwhile={madeHere(one.id, "text")} />
          </p>
          <Photo id={one.photo} row={one.id} about={`Note by ${nameOf(one.by)}`} />
        </div>
      ))}
      <StillHere
        of={({ task: named, about_kind, about }) => (about_kind === "task" ? about : named) === task.id}
      />
      {evidence.map((one) => (
        <RefusalPanel
          key={one.id}
          sentence={`${one.by === actor.value ? "You" : nameOf(one.by)} worked on this too, without connection.`}
          remedy="What was typed is kept here; it doesn't count."
        >
          <TypedKept asks={typedIn(one)} />
        </RefusalPanel>
      ))}
    </>
  );
}
