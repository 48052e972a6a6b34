/** Two-tap reports from anywhere: dropped or left in, a note, a snag, done differently. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import type { NewPhoto } from "../../app/photoMaking";
import type { Waiting } from "../../local/store";
import { typed, WhyMend } from "../mending";
import { Button, Choice, Dialog, MainButton, NoticeLine, TextField, Tick } from "../parts";
import { AddPhoto } from "../photo/AddPhoto";
import { unitWord } from "../words/units";
import type { StepSeen, TaskRow } from "./progress";

interface Props {
  onClose: () => void;
  task?: TaskRow | undefined;
  mends?: Waiting | undefined;
}

const KINDS = [
  { key: "dropped", word: "Dropped" },
  { key: "left_in", word: "Left in" },
  { key: "loosened", word: "Loosened" },
  { key: "unplugged", word: "Unplugged" },
  { key: "opened", word: "Opened" },
  { key: "propped", word: "Propped" },
  { key: "borrowed", word: "Borrowed from the car" },
  { key: "other", word: "Something else" },
] as const;

/** *Dropped or left in*: the kind, and it is written; what and where may be added first (R23). */
export function ReportLoose({ onClose, task, mends }: Props): JSX.Element {
  const zones = rows("build").get("build")?.zones ?? [];
  const [what, setWhat] = useState(typed(mends, "what_text"));
  const [zone, setZone] = useState<string | undefined>(typed(mends, "zone") || task?.plan.zone);
  const [photo, setPhoto] = useState<NewPhoto | null>(null);
  const [more, setMore] = useState(mends !== undefined);
  const report = (kind: string) => {
    const body = {
      kind,
      ...(zone ? { zone } : {}),
      ...(task ? { task: task.id } : {}),
      ...(what.trim() ? { what_text: what.trim() } : {}),
    };
    void dispatch("loose.report", body, { photo, mends });
    onClose();
  };
  return (
    <Dialog
      open
      title="Dropped or left in"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <WhyMend mend={mends} />
        <p>One press opens a loose end. Nobody cranks before it is found.</p>
        <div class="two-up">
          {KINDS.slice(0, 2).map((kind) => (
            <Button key={kind.key} label={kind.word} size={72} onPress={() => report(kind.key)} />
          ))}
        </div>
        {!more && <Button label="Say more first" onPress={() => setMore(true)} />}
        {more && (
          <>
            <TextField label="What is it?" value={what} onType={setWhat} maxLength={200} />
            <AddPhoto photo={photo} onPhoto={setPhoto} />
            {zones.length > 0 && (
              <Choice
                legend="Where?"
                chosen={zone}
                onChoose={setZone}
                options={zones.map((one) => ({ key: one.id, word: one.name }))}
              />
            )}
            <div class="stack">
              {KINDS.map((kind) => (
                <Button key={kind.key} label={kind.word} size={64} wide onPress={() => report(kind.key)} />
              ))}
            </div>
          </>
        )}
      </div>
    </Dialog>
  );
}

/** Words, a photo, or both. */
export function AddNote({
  onClose,
  task,
  mends,
  about = { kind: "task", id: task?.id ?? "build" },
}: Props & { about?: { kind: string; id: string } }): JSX.Element {
  const [text, setText] = useState(typed(mends, "text"));
  const [photo, setPhoto] = useState<NewPhoto | null>(null);
  return (
    <Dialog
      open
      title="Note"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <WhyMend mend={mends} />
        <TextField label="What should the crew know?" value={text} onType={setText} lines maxLength={2000} />
        <AddPhoto photo={photo} onPhoto={setPhoto} />
        <MainButton
          label="Write the note"
          blocked={text.trim() || photo || typed(mends, "photo") ? undefined : "type it, or add a photo"}
          onPress={() => {
            const words = text.trim() ? { text: text.trim() } : {};
            const body = { about_kind: about.kind, about: about.id, ...words };
            void dispatch("note.add", body, { photo, mends });
            onClose();
          }}
        />
      </div>
    </Dialog>
  );
}

export function ReportSnag({ onClose, task, mends }: Props): JSX.Element {
  const [text, setText] = useState(typed(mends, "what_text"));
  const [photo, setPhoto] = useState<NewPhoto | null>(null);
  return (
    <Dialog
      open
      title="Report a snag"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <WhyMend mend={mends} />
        <TextField label="What is wrong?" value={text} onType={setText} lines maxLength={2000} />
        <AddPhoto photo={photo} onPhoto={setPhoto} />
        <MainButton
          label="Report a snag"
          blocked={text.trim() ? undefined : "type it first"}
          onPress={() => {
            const body = { what_text: text.trim(), ...(task ? { task: task.id } : {}) };
            void dispatch("snag.report", body, { photo, mends });
            onClose();
          }}
        />
      </div>
    </Dialog>
  );
}

/** A deviation: manual says, we did, why. Somebody who did not do it accepts it (R9). */
export function DoneDifferently({
  onClose,
  task,
  step: current,
  mends,
}: Props & { task: TaskRow; step?: StepSeen | undefined }): JSX.Element {
  const step = mends ? typed(mends, "step") || undefined : current?.plan.id;
  const plan = task.plan.steps.find((one) => one.id === step);
  const outside = current?.value && !mends ? `${current.value} ${unitWord(current.unit ?? "")}` : "";
  const [says, setSays] = useState(typed(mends, "manual_says_text") || (plan?.say ?? ""));
  const [did, setDid] = useState(typed(mends, "we_did_text") || outside);
  const [why, setWhy] = useState(typed(mends, "why_text"));
  const [answer, setAnswer] = useState(typed(mends, "answer_text"));
  const [leaveOut, setLeaveOut] = useState(mends?.envelope.body.leave_out === true);
  const [photo, setPhoto] = useState<NewPhoto | null>(null);
  const missing = !says.trim()
    ? "what the manual says"
    : !did.trim()
      ? "what you did"
      : !why.trim()
        ? "why"
        : undefined;
  return (
    <Dialog
      open
      title="Done differently"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <WhyMend mend={mends} />
        <TextField label="The manual says" value={says} onType={setSays} lines maxLength={2000} />
        <TextField label="We did" value={did} onType={setDid} lines maxLength={2000} />
        <TextField label="Why" value={why} onType={setWhy} lines maxLength={2000} />
        <TextField
          label="The maker's or an engineer's answer, if there is one"
          value={answer}
          onType={setAnswer}
          lines
          maxLength={2000}
        />
        <AddPhoto photo={photo} onPhoto={setPhoto} />
        <Tick word="The step is left out altogether" ticked={leaveOut} onTick={setLeaveOut} />
        <NoticeLine>
          Somebody who did not do it accepts it; on critical work two, with the maker's answer.
        </NoticeLine>
        <MainButton
          label="Done differently"
          blocked={missing ? `write ${missing}` : undefined}
          onPress={() => {
            const body = {
              task: task.id,
              leave_out: leaveOut,
              manual_says_text: says.trim(),
              we_did_text: did.trim(),
              why_text: why.trim(),
              ...(answer.trim() ? { answer_text: answer.trim() } : {}),
              ...(step ? { step } : {}),
            };
            void dispatch("deviation.propose", body, { photo, mends });
            onClose();
          }}
        />
      </div>
    </Dialog>
  );
}
