/** The current step: its words at 26 px, its value or drawing, and what the main button does about it. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { isDown } from "../../app/lifts";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { useView } from "../../app/views";
import type { Waiting } from "../../local/store";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { BroughtIntoView } from "../BroughtIntoView";
import { Button, Choice, Keypad, LinkButton, MainButton, NoticeLine, RefusalPanel, Stub } from "../parts";
import { seeGroup, type TorqueView } from "../torque/seen";
import { readNumber } from "../words/numbers";
import { unitHeard, unitWord } from "../words/units";
import { missingWords } from "./missing";
import { bulkFrom, groupReached, type StepPlan, type StepSeen, type TaskRow } from "./progress";

type TaskView = components["schemas"]["TaskView"];

interface StepProps {
  task: TaskRow;
  step: StepSeen;
  steps: StepSeen[];
  /** What is typed at a measure step. */
  typed: string;
  onType: (typed: string) => void;
  /** A refused measure whose place this one takes. */
  mends?: Waiting | undefined;
  /** To say that it was done differently. */
  onDifferently?: () => void;
}

/** Store the measure and empty the field. */
function writeMeasure({
  task,
  step,
  typed,
  onType,
  mends,
}: Omit<StepProps, "steps" | "onDifferently">): void {
  const unit = step.plan.measure?.unit;
  if (!unit || !readNumber(typed)) return;
  void dispatch("task.measure", { task: task.id, step: step.plan.id, value: typed.trim(), unit }, { mends });
  onType("");
}

function tick(task: TaskRow, steps: string[]): void {
  void dispatch("task.tick", { task: task.id, steps });
}

/** What stands above the main button: the keypad of a measure, the sides, the way to the bolts or the lift. */
export function StepMatter(props: StepProps): JSX.Element | null {
  const { task, step } = props;
  const { plan } = step;
  const opens = plan.opens ?? [];
  const puts = plan.puts_back ?? [];
  const planned = rows("build").get("build")?.loose_ends ?? [];
  const named = (id: string): string => planned.find((one) => one.id === id)?.what ?? id;
  return (
    <div class="stack">
      <p class="t-strong">
        {step.number}. {plan.say}
      </p>
      {plan.manual && (
        <p class="t-dim">
          Manual {plan.manual.page}
          {plan.manual.revision ? `, revision ${plan.manual.revision}` : ""}
        </p>
      )}
      {plan.caution && <NoticeLine>{plan.caution}</NoticeLine>}
      {opens.length > 0 && <NoticeLine>This opens a loose end: {opens.map(named).join("; ")}.</NoticeLine>}
      {puts.length > 0 && <NoticeLine>This makes good: {puts.map(named).join("; ")}.</NoticeLine>}
      {plan.kind === "measure" && <MeasureMatter {...props} />}
      {plan.kind === "confirm_side" && <SideMatter task={task} step={step} />}
    </div>
  );
}

function MeasureMatter(props: Omit<StepProps, "steps">): JSX.Element | null {
  const { step, typed, onType } = props;
  const measure = step.plan.measure;
  if (!measure) return null;
  const unit = unitWord(measure.unit);
  const limits =
    measure.low && measure.high
      ? `${measure.low} to ${measure.high} ${unit}`
      : measure.high
        ? `at most ${measure.high} ${unit}`
        : measure.low
          ? `at least ${measure.low} ${unit}`
          : null;
  return (
    <>
      {step.value && (
        <BroughtIntoView key={`${step.plan.id} ${step.value}`}>
          <RefusalPanel
            sentence={`${step.value} ${unit} is outside${limits ? `: ${limits}` : ""}.`}
            remedy="It is kept as read, and the step stays open. Put it right and measure again, or say what was done differently: somebody else accepts it."
          >
            {step.onPhone && <Stub />}
            {props.onDifferently && <Button label="Done differently" onPress={props.onDifferently} />}
          </RefusalPanel>
        </BroughtIntoView>
      )}
      <Keypad
        label={`${measure.say}${limits ? `, ${limits}` : ""}`}
        value={typed}
        onType={onType}
        onEnter={() => writeMeasure(props)}
        kind={measure.unit === "in" ? "inches" : measure.unit === "count" ? "whole" : "decimal"}
        unit={unit}
        unitHeard={unitHeard(measure.unit)}
        wrong={typed && !readNumber(typed) ? "Type a number, such as 92 or 92,5." : undefined}
      />
      {measure.low?.startsWith("-") && (
        <Button
          label={typed.startsWith("-") ? "Make it plus" : "Make it minus"}
          size={48}
          onPress={() => onType(typed.startsWith("-") ? typed.slice(1) : `-${typed}`)}
        />
      )}
    </>
  );
}

function SideMatter({ task, step }: { task: TaskRow; step: StepSeen }): JSX.Element {
  const wanted = step.plan.side ?? task.plan.side ?? "left";
  const [side, setSide] = useState<"left" | "right" | undefined>(undefined);
  return (
    <>
      <p class="t-arm">This is for the {wanted} side.</p>
      <Choice
        legend="Which side are you at?"
        row
        chosen={side}
        onChoose={setSide}
        wrong={
          side && side !== wanted ? `That is the other side. This is for the ${wanted} side.` : undefined
        }
        options={[
          { key: "left", word: "Left" },
          { key: "right", word: "Right" },
        ]}
      />
      <Button
        label={`I am at the ${side ?? "…"} side`}
        kind="act"
        size={72}
        wide
        blocked={side === wanted ? undefined : "choose the side first"}
        onPress={() =>
          void dispatch("task.confirm_side", { task: task.id, step: step.plan.id, side: wanted })
        }
      />
    </>
  );
}

const TO_THE_BOLTS = {
  tighten: "Go on: the torque",
  snug: "Go on: snug them",
  run_in: "Go on: run them in",
};

/** To the bolts, until they are as far as the step brings them; what was read here counts as the service will count it. */
function BoltsButton(props: { task: TaskRow; plan: StepPlan; done: JSX.Element }): JSX.Element {
  const { task, plan, done } = props;
  const view = useView<TorqueView>(plan.kind === "tighten" ? `/groups/${plan.group}/torque` : null).data;
  const read = view && seeGroup(view);
  if (groupReached(plan) || (read?.pass === null && read.unsent > 0)) return done;
  return (
    <LinkButton
      label={TO_THE_BOLTS[plan.kind as keyof typeof TO_THE_BOLTS]}
      href={`/groups/${plan.group}?task=${task.id}&step=${plan.id}`}
      kind="act"
      size={72}
      wide
    />
  );
}

/** The fixed main button for the current step. */
export function StepButton(props: StepProps): JSX.Element | null {
  const { task, step, steps, typed } = props;
  const { plan, number } = step;
  const bulk = bulkFrom(steps);
  const last = bulk.at(-1);
  const paused = useView<TaskView>(`/tasks/${task.id}/view`).data?.paused;
  // Without a signal nobody here knows who has joined meanwhile: the step is judged when it arrives.
  const blocked = link.value.up ? missingWords(paused) : undefined;
  const done = (
    <MainButton label={`Step ${number} done`} blocked={blocked} onPress={() => tick(task, [plan.id])} />
  );
  if (plan.kind === "run_in" || plan.kind === "snug" || plan.kind === "tighten")
    return <BoltsButton task={task} plan={plan} done={done} />;
  if (plan.kind === "lift" && task.plan.lift) {
    if (isDown(task.plan.lift)) return done;
    return <LinkButton label="Go to the lift" href={`/lifts/${task.plan.lift}`} kind="act" size={72} wide />;
  }
  if (plan.kind === "hold" && !task.holds?.[plan.id]) {
    return (
      <LinkButton
        label="Hold point: a second person signs"
        href={`/hold/${task.id}/${plan.id}`}
        kind="act"
        size={72}
        wide
      />
    );
  }
  if (plan.kind === "measure") {
    const unit = unitWord(plan.measure?.unit ?? "");
    return (
      <MainButton
        label={typed.trim() ? `Write ${typed.trim()} ${unit}`.trim() : "Write the measure"}
        blocked={readNumber(typed) ? undefined : "type it first"}
        onPress={() => writeMeasure(props)}
      />
    );
  }
  if (plan.kind === "confirm_side") return null; // its button stands beside the sides
  if (last && bulk.length > 1) {
    return (
      <div class="stack">
        {done}
        <Button
          label={`All done down to step ${last.number}`}
          size={64}
          wide
          blocked={blocked}
          onPress={() =>
            tick(
              task,
              bulk.map((one) => one.plan.id),
            )
          }
        />
      </div>
    );
  }
  return done;
}
