/** Stuck, give back, going home, pass on: three taps with ready-made reasons, never blocked by a form (R10). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import type { NewPhoto } from "../../app/photoMaking";
import { isIn } from "../../app/presence";
import { fullNameOf, serverNow } from "../../app/session";
import type { Waiting } from "../../local/store";
import type { RowKinds } from "../../wire/rows";
import { go } from "../go";
import { typed, WhyMend } from "../mending";
import { Button, Choice, Dialog, MainButton, ReasonPicker, TextField, Tick } from "../parts";
import { AddPhoto } from "../photo/AddPhoto";
import { REASONS, STUCK_REASONS } from "../words/reasons";
import { LooseStrips, looseAt } from "./Handed";
import { stepsOf, type TaskRow } from "./progress";

export type Leave = "stuck" | "give_back" | "go_home" | "pass_on" | "take_over";

const WORDS: Record<Leave, { title: string; question: string }> = {
  stuck: { title: "I am stuck", question: "What is it?" },
  give_back: { title: "Give back", question: "Why do you give it back?" },
  go_home: { title: "Going home", question: "Why do you stop here?" },
  pass_on: { title: "Pass on", question: "To whom?" },
  take_over: { title: "Take over", question: "Why do you take it over?" },
};

/** Somebody a task can be passed to: grown up, of the crew, and no guest whose day is over. */
function mayLead({ left, role, minor, guest_until_ms }: RowKinds["member"]): boolean {
  const gone = typeof guest_until_ms === "number" && guest_until_ms <= serverNow();
  return !left && role !== "viewer" && !minor && !gone;
}

function lacksSkill(task: TaskRow, { skills }: RowKinds["member"]): string | undefined {
  const skill = task.plan.lead_skill;
  if (!skill || skills?.includes(skill)) return undefined;
  return `needs the ${skill.replaceAll("_", " ")} skill`;
}

export function Leaving({
  task,
  how,
  mends,
  onClose,
}: {
  task: TaskRow;
  how: Leave | null;
  mends?: Waiting | undefined;
  onClose: () => void;
}): JSX.Element | null {
  const [reason, setReason] = useState<string | undefined>(
    typed(mends, "reason") || (how === "go_home" ? "time" : undefined),
  );
  const [note, setNote] = useState(typed(mends, "note_text"));
  const [tag, setTag] = useState(mends?.envelope.body.tag_on_car === true);
  const [photo, setPhoto] = useState<NewPhoto | null>(null);
  const [to, setTo] = useState<string | undefined>(typed(mends, "to_person") || undefined);
  if (!how) return null;
  const others = [...rows("member").values()].filter((one) => mayLead(one) && one.id !== task.holder);
  const loose = looseAt(task);
  const text = note.trim() ? { note_text: note.trim() } : {};
  const why = reason ?? "other";

  function send(): void {
    if (how === "stuck") {
      void dispatch("task.stuck", { task: task.id, reason: why, ...text }, { photo, mends });
    }
    if (how === "give_back")
      void dispatch("task.give_back", { task: task.id, reason: why, ...text }, { mends });
    if (how === "take_over") void dispatch("task.take_over", { task: task.id, reason: why }, { mends });
    if (how === "pass_on" && to)
      void dispatch("task.pass_on", { task: task.id, to_person: to, ...text }, { mends });
    if (how === "go_home") {
      const current = stepsOf(task).find((one) => one.state === "current");
      const body = {
        task: task.id,
        reason: why,
        loose: loose.map((one) => one.id),
        tag_on_car: tag,
        ...(current ? { step: current.plan.id } : {}),
        ...text,
      };
      void dispatch("task.go_home", body, { photo, mends });
    }
    onClose();
    if (how !== "stuck" && how !== "take_over") go("/");
  }

  return (
    <Dialog open title={WORDS[how].title} onClose={onClose}>
      <WhyMend mend={mends} />
      {how === "go_home" && loose.length > 0 && (
        <section class="stack" aria-label="Still loose">
          <p>Still loose here, and handed over with it:</p>
          <LooseStrips ends={loose} />
        </section>
      )}
      {how === "pass_on" ? (
        <div class="stack">
          <Choice
            legend={WORDS[how].question}
            chosen={to}
            onChoose={setTo}
            options={others.map((one) => ({
              key: one.id,
              word: fullNameOf(one.id),
              second: isIn(one) ? "in" : "not in",
              blocked: lacksSkill(task, one),
            }))}
          />
          <TextField label="Anything they should know?" value={note} onType={setNote} lines />
          <MainButton label="Pass on" blocked={to ? undefined : "choose who"} onPress={send} />
          <Button label="Leave it as it is" size={64} wide onPress={onClose} />
        </div>
      ) : (
        <ReasonPicker
          question={WORDS[how].question}
          reasons={how === "stuck" ? STUCK_REASONS : REASONS}
          chosen={reason}
          onChoose={setReason}
          note={note}
          onNote={setNote}
          confirmLabel={WORDS[how].title}
          onConfirm={send}
          onLeave={onClose}
        >
          {(how === "go_home" || how === "stuck") && <AddPhoto photo={photo} onPhoto={setPhoto} />}
          {how === "go_home" && (
            <Tick
              word="I hung a paper tag on the car"
              second="so that anybody sees where it stands"
              ticked={tag}
              onTick={setTag}
            />
          )}
        </ReasonPicker>
      )}
    </Dialog>
  );
}
