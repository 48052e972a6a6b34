/** How the last person left it: where they stopped, what is loose, their words, a photo, the tag on the car (R10). */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { nameOf } from "../../app/session";
import type { RowKinds } from "../../wire/rows";
import { kindWord } from "../gates/Strip";
import { Payload } from "../Payload";
import { TapeStrip } from "../parts";
import { Photo } from "../photo/Photo";
import { reasonWord } from "../words/reasons";
import { moment } from "../words/times";
import { capital } from "../words/who";
import type { TaskRow } from "./progress";

type Handover = NonNullable<TaskRow["handover"]>;
type LooseEnd = RowKinds["loose_end"];

const HOW: Record<Handover["how"], string> = {
  went_home: "stopped here",
  gave_back: "gave it back",
  passed_on: "passed it on",
  released: "left the crew",
};

/** What was opened or reported at this task and is not made good. */
export function looseAt(task: TaskRow): LooseEnd[] {
  return [...rows("loose_end").values()].filter((one) => !one.closed && one.task === task.id);
}

export function LooseStrips({ ends }: { ends: readonly LooseEnd[] }): JSX.Element {
  return (
    <>
      {ends.map((one) => (
        <TapeStrip key={one.id} kind={kindWord(one.kind)} what={one.what} />
      ))}
    </>
  );
}

function Words({ task, left }: { task: TaskRow; left: Handover }): JSX.Element {
  const index = task.plan.steps.findIndex((one) => one.id === left.step);
  const step = task.plan.steps[index];
  const said = (left.loose ?? []).flatMap((id) => rows("loose_end").get(id) ?? []);
  const loose = left.how === "passed_on" ? looseAt(task) : said.filter((one) => !one.closed);
  return (
    <div class="stack">
      <p class="t-small t-dim">
        {capital(nameOf(left.by))} {HOW[left.how]}, {moment(left.at_ms)}
        {left.reason ? `: ${reasonWord(left.reason)}.` : "."}
        {left.tag_on_car && " A paper tag hangs on the car."} <Payload id={left.note} />
      </p>
      {step && (
        <p class="t-small t-dim">
          They were at step {index + 1}: {step.say}
        </p>
      )}
      {loose.length > 0 && <LooseStrips ends={loose} />}
      <Photo id={left.photo} about={`How ${nameOf(left.by)} left it`} />
    </div>
  );
}

/** In full for whoever may take it or was given it; once somebody took it themselves it folds. */
export function Handed({ task }: { task: TaskRow }): JSX.Element | null {
  const left = task.handover;
  if (!left || (task.state !== "open" && task.state !== "taken")) return null;
  if (!task.taken_at_ms || left.at_ms >= task.taken_at_ms) return <Words task={task} left={left} />;
  return (
    <details class="fold">
      <summary>How {nameOf(left.by)} left it</summary>
      <Words task={task} left={left} />
    </details>
  );
}
