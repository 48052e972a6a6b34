/** Done differently from the manual: what it says, what was done, why; and who accepts it, with the maker's answer (R9). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, madeHere, pending } from "../../app/outbox";
import { iLeadToday, me, nameOf, typingFor } from "../../app/session";
import { isOn, type TaskRow } from "../../app/tasks";
import type { RowKinds } from "../../wire/rows";
import { Payload } from "../Payload";
import { Button, Stub, TextField } from "../parts";
import { Photo } from "../photo/Photo";
import { RefusedHere } from "../RefusedHere";
import { moment } from "../words/times";

type Deviation = RowKinds["deviation"];

/** Why whoever is at this phone can't accept it, in the words of the button. A reading may have no task. */
function barred(one: Deviation, task: TaskRow | undefined): string | undefined {
  const person = me.value?.person ?? "";
  const touched = rows("group").get(one.group ?? "")?.touched ?? [];
  const worked = [one.by, ...(task?.worked ?? []), ...touched].includes(person);
  if (worked || (task && isOn(task, person))) return "whoever did it can't accept it";
  if ((one.accepted ?? []).some((pair) => pair.by === person)) return "one more must, you have";
  return undefined;
}

function Accept({ one, task }: { one: Deviation; task: TaskRow | undefined }): JSX.Element {
  const [answer, setAnswer] = useState("");
  if (pending("deviation.accept", { deviation: one.id }).length > 0)
    return <Stub word="Accepted, on this phone only" />;
  const why = barred(one, task);
  const wanted = one.critical && !one.answer && !why;
  return (
    <>
      {wanted && (
        <TextField
          label="The maker's or an engineer's answer"
          help="What they said, who, and when. This is critical: without it nobody can accept it"
          value={answer}
          onType={setAnswer}
          lines
          maxLength={2000}
        />
      )}
      <Button
        label="Accept it"
        blocked={
          why ?? (wanted && !answer.trim() ? "the maker's or engineer's answer is missing" : undefined)
        }
        onPress={() =>
          void dispatch(
            "deviation.accept",
            { deviation: one.id, ...(answer.trim() ? { answer_text: answer.trim() } : {}) },
            { seen: true },
          )
        }
      />
    </>
  );
}

interface Props {
  one: Deviation;
  task?: TaskRow | undefined;
}

export function Differently({ one, task }: Props): JSX.Element {
  const accepted = one.accepted ?? [];
  return (
    <section class="stack" aria-label="Done differently">
      <h3>Done differently{one.state === "accepted" ? ", accepted" : ", waits to be accepted"}</h3>
      <p>
        Manual says: <Payload id={one.manual_says} meanwhile={madeHere(one.id, "manual_says_text")} />
      </p>
      <p>
        We did: <Payload id={one.we_did} meanwhile={madeHere(one.id, "we_did_text")} />
      </p>
      <p>
        Why: <Payload id={one.why} meanwhile={madeHere(one.id, "why_text")} />
      </p>
      {one.answer && (
        <p>
          The maker's or an engineer's answer:{" "}
          <Payload id={one.answer} meanwhile={madeHere(one.id, "answer_text")} />
        </p>
      )}
      <Photo id={one.photo} row={one.id} about="Done differently" />
      <p class="t-dim">
        {nameOf(one.by)}, {moment(one.at_ms)}
        {accepted.length > 0 && ` · accepted by ${accepted.map((pair) => nameOf(pair.by)).join(", ")}`}
        {one.critical && accepted.length === 1 && one.state === "waiting" && " · one more must"}
      </p>
      <RefusedHere about={{ deviation: one.id }} />
      {one.state === "waiting" && iLeadToday() && !typingFor.value && <Accept one={one} task={task} />}
    </section>
  );
}
