/** A task. Before it is taken: what exactly, with what, what hurts. Taken, turned round: the current step first. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { isLanded } from "../../app/lifts";
import { loaded, rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { isIn } from "../../app/presence";
import { actor, iLead, leadsToday, nameOf, typingFor } from "../../app/session";
import { isOn, matesOf, type TaskRow, taskSeen } from "../../app/tasks";
import { isUnder } from "../../app/under";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import type { RowKinds } from "../../wire/rows";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { Fetching } from "../Fetching";
import { go } from "../go";
import { endMend, typed, useMend } from "../mending";
import { Payload } from "../Payload";
import {
  Button,
  EmptyState,
  LinkButton,
  MainButton,
  type MenuItem,
  MoreMenu,
  NoticeLine,
  RefusalPanel,
  Stub,
} from "../parts";
import { Photo } from "../photo/Photo";
import { RefusedHere } from "../RefusedHere";
import { Screen } from "../Screen";
import { About } from "../task/About";
import { Fetch } from "../task/Fetch";
import { Handed } from "../task/Handed";
import { Hazards } from "../task/Hazards";
import { joinsAs, joinWords, mateWords } from "../task/joining";
import { type LeadsAct, LeadsReason } from "../task/LeadsReason";
import { type Leave, Leaving } from "../task/Leaving";
import { notTakenYet } from "../task/notYet";
import { stepsOf } from "../task/progress";
import { AddNote, DoneDifferently, ReportLoose, ReportSnag } from "../task/Reports";
import { Standing, StateWord } from "../task/Standing";
import { StepList } from "../task/StepList";
import { StepButton, StepMatter } from "../task/StepWork";
import { useTopAfterPress } from "../topAfterPress";
import { reasonWord } from "../words/reasons";
import { moment } from "../words/times";
import { unsentWords } from "../words/unsent";
import { capital, who } from "../words/who";

type TaskView = components["schemas"]["TaskView"];
type Sheet = "loose" | "note" | "snag" | "differently" | null;

/** What a refused command is mended in. */
const SHEETS: Record<string, Sheet> = {
  "loose.report": "loose",
  "note.add": "note",
  "snag.report": "snag",
  "deviation.propose": "differently",
};
const LEAVES: Record<string, Leave> = {
  "task.stuck": "stuck",
  "task.give_back": "give_back",
  "task.go_home": "go_home",
  "task.pass_on": "pass_on",
  "task.take_over": "take_over",
};

/** `told`: as the service has it. */
function whoHas({ holder, signed }: TaskRow, told: TaskRow): string {
  if (holder !== told.holder && holder === actor.value) return "You asked for it";
  if (signed) return `Signed off by ${nameOf(signed.by)}, ${moment(signed.at_ms)}`;
  if (!holder) return "Nobody has it";
  if (holder === actor.value) return "You have it";
  return `${nameOf(holder)} has it${isIn(rows("member").get(holder)) ? "" : " and is not in today"}`;
}

function asMate(task: TaskRow, person: string): string {
  const member = rows("member").get(person);
  return member ? mateWords(task, member) : "";
}

/** Is it stuck, or its holder not here? Then others may take it up (R10). */
function stuckOrLeft(task: TaskRow): boolean {
  return task.stuck !== null || !isIn(rows("member").get(task.holder ?? ""));
}

/** May I take it over from whoever has it: stuck or left, anybody; a lead, any (R10). */
function takesOver(task: TaskRow, me: RowKinds["member"] | undefined): { main: boolean } | null {
  if (task.state !== "taken" || !me || me.role === "viewer" || task.holder === me.id) return null;
  if (me.minor || joinsAs(task, me) !== "hand") return null; // whoever may not lead it joins
  const left = stuckOrLeft(task);
  return left || me.role === "lead" ? { main: left } : null;
}

function People({ task, told }: { task: TaskRow; told: TaskRow }): JSX.Element {
  const { plan } = task;
  const mates = matesOf(task);
  const here = task.holder ? 1 + mates.length : 0;
  const must = plan.must_people ?? 1;
  return (
    <p>
      {whoHas(task, told)}
      {mates.length > 0 &&
        `, with ${mates.map((person) => nameOf(person) + asMate(task, person)).join(", ")}`}
      .{must > 1 && ` Needs ${must} people${task.holder && here < must ? `: ${must - here} more` : ""}.`}
      {must <= 1 && (plan.better_people ?? 1) > 1 && ` Goes better with ${plan.better_people}.`}
      {plan.lead_skill && ` Led by somebody with the ${plan.lead_skill.replaceAll("_", " ")} skill.`}
      {plan.minors === "no" && " Not for under-18s."}
      {plan.minors === "watch" && " Under-18s watch only."}
    </p>
  );
}

function Around({ task }: { task: TaskRow }): JSX.Element {
  const { plan } = task;
  const zone = rows("build")
    .get("build")
    ?.zones?.find((one) => one.id === plan.zone);
  return (
    <>
      <p class="t-dim">
        {task.id}
        <StateWord id={task.id} /> · {zone?.name ?? plan.zone}
        {plan.manual && ` · manual ${plan.manual.page}`}
      </p>
      {plan.side && <p class="t-arm">{plan.side === "left" ? "Left side" : "Right side"} of the car</p>}
      {plan.note && <NoticeLine>{plan.note}</NoticeLine>}
      {task.stuck && (
        <RefusalPanel
          sentence={`Stuck: ${reasonWord(task.stuck.reason)}.`}
          remedy={`${capital(nameOf(task.stuck.by))}, ${moment(task.stuck.at_ms)}.`}
        >
          <Payload id={task.stuck.note} />
          <Photo id={task.stuck.photo} about={`Where ${who(task.stuck.by, "is")} stuck`} />
        </RefusalPanel>
      )}
      <Handed task={task} />
      {task.to_be_undone && (
        <RefusalPanel
          sentence="Left out of this build, and signed: it is to be undone."
          remedy="Take it off the car as far as it is in the way, then say so: This was undone."
        />
      )}
      {(task.built_on_undone ?? []).length > 0 && (
        <RefusalPanel
          sentence={`Built on undone work: ${(task.built_on_undone ?? []).join(", ")}.`}
          remedy="The lead looks at it and clears the mark with a reason."
        />
      )}
    </>
  );
}

export default function Task({ id }: { id: string }): JSX.Element {
  const [leave, setLeave] = useState<Leave | null>(null);
  const [sheet, setSheet] = useState<Sheet>(null);
  const [leads, setLeads] = useState<LeadsAct | null>(null);
  const [value, setValue] = useState("");
  const mend = useMend();
  const mends = (kind: string) => (mend?.envelope.kind === kind ? mend : undefined);
  const closeSheet = () => {
    setSheet(null);
    setLeave(null);
    endMend();
  };
  useEffect(() => {
    if (!mend) return;
    const { kind } = mend.envelope;
    setSheet(SHEETS[kind] ?? null);
    setLeave(LEAVES[kind] ?? null);
  }, [mend?.id]);
  const told = rows("task").get(id);
  const seen = told && taskSeen(told);
  const steps = seen ? stepsOf(seen.row) : [];
  const current = steps.find((one) => one.state === "current");
  const ofStep = current?.plan.id;
  const measure = typed(mend, "step") === ofStep ? mends("task.measure") : undefined;
  // At each step the keypad begins anew, or with what is mended there: a figure of another step never lands in this one.
  useEffect(() => setValue(typed(measure, "value")), [ofStep, measure?.id]);
  const prepared = useView<TaskView>(`/tasks/${id}/view`);
  const person = actor.value ?? "";
  const on = !!seen && isOn(seen.row, person) && !seen.signed;
  useTopAfterPress(`${on} ${seen?.row.state} ${ofStep}`);
  if (!told || !seen) {
    return (
      <Screen opened title={id} place="queue">
        {loaded.value ? (
          <EmptyState sentence="There is no such task in this build." />
        ) : (
          <Fetching sentence="Fetching the task" />
        )}
      </Screen>
    );
  }
  const { row: task, unsent, signed } = seen;
  const { plan } = task;
  const holder = task.holder === person;
  const me = rows("member").get(person);
  const as = me ? joinsAs(task, me) : "hand";

  const crew = me !== undefined && me.role !== "viewer"; // a viewer looks, and is offered nothing to press
  const asksParts = crew && ((on && task.state === "taken") || task.state === "open");
  const goUnder = () => void dispatch("hazard.under", { task: id });
  const mayGoUnder = crew && !isUnder(person);
  // Where the work itself is under the car the button stands on the screen; else it is under More.
  const underHere = mayGoUnder && on && !!current && (plan.hazards ?? []).includes("under_car");

  const takes = takesOver(task, me);
  const takeOver: MenuItem = { label: "Take over", onPress: () => setLeave("take_over") };
  const joinIt: MenuItem = {
    label: joinWords(as ?? "hand", nameOf(task.holder)),
    onPress: () => void dispatch("task.join", { task: id, learner: as !== "hand" }),
  };

  const items: MenuItem[] = [{ label: "Dropped or left in", onPress: () => setSheet("loose") }];
  if (on && task.state === "taken") {
    if (task.stuck) items.push({ label: "Go on", onPress: () => void dispatch("task.go_on", { task: id }) });
    else items.push({ label: "I am stuck", onPress: () => setLeave("stuck") });
    items.push({ label: "Going home", onPress: () => setLeave("go_home") });
    if (holder) {
      items.push({ label: "Give back", onPress: () => setLeave("give_back") });
      items.push({
        label: task.help_wanted ? "No more help wanted" : "I want help",
        onPress: () => void dispatch("task.want_help", { task: id, wanted: !task.help_wanted }),
      });
    } else items.push({ label: "Leave", onPress: () => void dispatch("task.leave", { task: id }) });
    if (!holder && takes) items.push(takeOver);
    items.push({ label: "Done differently", onPress: () => setSheet("differently") });
    const last = steps.filter((one) => one.state === "done").at(-1);
    if (last) {
      items.push({
        label: `Not done after all: step ${last.number}`,
        onPress: () => void dispatch("task.untick", { task: id, step: last.plan.id }),
      });
    }
  }
  if (task.state === "taken" && !signed) {
    if (!on && takes && !takes.main) items.push(takeOver);
    if (!on && takes?.main && as) items.push(joinIt);
    const moves = me?.role === "lead" || (stuckOrLeft(task) && leadsToday(person));
    if (holder || moves) items.push({ label: "Pass on", onPress: () => setLeave("pass_on") });
  }
  if (mayGoUnder && !underHere) items.push({ label: "I'm under", onPress: goUnder });
  items.push(
    { label: "Note", onPress: () => setSheet("note") },
    { label: "Add photo", onPress: () => setSheet("note") },
    { label: "Report a snag", onPress: () => setSheet("snag") },
  );
  if (iLead() && task.state === "open" && !task.released && (plan.after ?? []).length > 0) {
    items.push({ label: "Release it out of order", onPress: () => setLeads("release") });
  }
  if (iLead() && (task.built_on_undone ?? []).length > 0) {
    items.push({ label: "Clear the mark", onPress: () => setLeads("clear-mark") });
  }
  if (task.state === "done" && plan.hold_point && !task.holds?.end) {
    items.push({ label: "Sign the hold point", onPress: () => go(`/hold/${id}/end`) });
  }
  const undone = () => go(`/undo/task/${id}`);
  if (task.state === "done" || task.state === "closed" || task.to_be_undone) {
    items.push({ label: "This was undone", onPress: undone });
  }

  let main: JSX.Element | null = null;
  if (task.state === "open") {
    main = (
      <MainButton
        label={link.value.up ? "Take it" : "Ask for it"}
        blocked={link.value.up ? notTakenYet(prepared.data, !typingFor.value) : undefined}
        onPress={() => void dispatch("task.take", { task: id })}
      />
    );
  } else if (task.state === "taken" && !on && !signed) {
    main = takes?.main ? <MainButton {...takeOver} /> : as && <MainButton {...joinIt} />;
  } else if (on && task.stuck) {
    main = <MainButton label="Go on" onPress={() => void dispatch("task.go_on", { task: id })} />;
  } else if (on && current)
    main = (
      <StepButton task={task} step={current} steps={steps} typed={value} onType={setValue} mends={measure} />
    );
  else if (holder && on && task.state === "taken" && plan.lift && !isLanded(plan.lift))
    main = (
      <LinkButton
        label="One more signs the lift as landed"
        href={`/lifts/${plan.lift}`}
        kind="act"
        size={72}
        wide
      />
    );
  else if (task.to_be_undone) main = <MainButton label="This was undone" onPress={undone} />;
  else if (holder && on && task.state === "taken")
    main = <MainButton label="Sign it off" onPress={() => void dispatch("task.sign_off", { task: id })} />;

  const after = current ? steps.slice(current.number, current.number + 2) : [];
  const done = steps.filter((one) => one.state === "done" || one.state === "left_out");
  const rest = current ? steps.slice(current.number + 2) : [];
  return (
    <Screen
      opened
      title={plan.title}
      place="queue"
      work={
        crew ? (
          <>
            {main}
            <MoreMenu items={items} />
          </>
        ) : undefined
      }
    >
      <AsOf at_ms={prepared.at_ms} />
      <div class="stack">
        <Around task={task} />
        {unsent.map(({ id: command, envelope }) => (
          <Stub key={command} word={unsentWords(envelope)} />
        ))}
        <RefusedHere about={{ task: id }} />
        <Standing task={told} />
        {on && current ? (
          <>
            <StepMatter
              task={task}
              step={current}
              steps={steps}
              typed={value}
              onType={setValue}
              mends={measure}
              onDifferently={() => setSheet("differently")}
            />
            <Hazards task={task} full={false} />
            {after.length > 0 && (
              <>
                <h2>Then</h2>
                <StepList steps={after} />
              </>
            )}
            <Fetch task={task} asks />
            {underHere && (
              <div class="row-of-buttons">
                <Button label="I'm under" size={64} onPress={goUnder} />
              </div>
            )}
            <People task={task} told={told} />
            {done.length > 0 && (
              <details>
                <summary>Done so far: {done.length}</summary>
                <StepList steps={done} />
              </details>
            )}
            {rest.length > 0 && (
              <details>
                <summary>After that: {rest.length} more</summary>
                <StepList steps={rest} />
              </details>
            )}
          </>
        ) : (
          <>
            {on && !holder && (
              <NoticeLine>Every step is done. {nameOf(task.holder)} signs it off.</NoticeLine>
            )}
            <Hazards task={task} full={!isOn(task, person)} />
            <People task={task} told={told} />
            <Fetch task={task} asks={asksParts} />
            <h2>Steps</h2>
            <StepList steps={steps} />
          </>
        )}
        <About task={task} />
      </div>
      {leave && <Leaving task={task} how={leave} mends={mends(`task.${leave}`)} onClose={closeSheet} />}
      {leads && <LeadsReason task={task} act={leads} onClose={() => setLeads(null)} />}
      {sheet === "loose" && <ReportLoose task={task} mends={mends("loose.report")} onClose={closeSheet} />}
      {sheet === "note" && <AddNote task={task} mends={mends("note.add")} onClose={closeSheet} />}
      {sheet === "snag" && <ReportSnag task={task} mends={mends("snag.report")} onClose={closeSheet} />}
      {sheet === "differently" && (
        <DoneDifferently task={task} step={current} mends={mends("deviation.propose")} onClose={closeSheet} />
      )}
    </Screen>
  );
}
