/** Torque: which bolt, how tight, with this torque wrench? Nothing is lost by leaving. */

import type { ComponentChildren, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useSearch } from "wouter-preact";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { actor, nameOf } from "../../app/session";
import { isOn, matesOf, taskSeen } from "../../app/tasks";
import { useView } from "../../app/views";
import type { RowKinds } from "../../wire/rows";
import { AsOf } from "../AsOf";
import { BoltPattern } from "../drawings";
import { Fetching } from "../Fetching";
import { go, toTop } from "../go";
import { Button, LinkButton, MainButton, NoticeLine, RefusalPanel } from "../parts";
import { RefusedHere } from "../RefusedHere";
import { Screen } from "../Screen";
import { useScreenOn } from "../screenOn";
import { Differently } from "../task/Differently";
import { groupReached } from "../task/progress";
import { LastLapse } from "../torque/LastLapse";
import { notCounted } from "../torque/notCounted";
import { Readings } from "../torque/Readings";
import { ReadTwice } from "../torque/ReadTwice";
import { SettingCard } from "../torque/SettingCard";
import { passOf, type Setup, seeGroup, setupQuery, type TorqueView } from "../torque/seen";
import { holding, keptFor, useKept, wrenchTrouble } from "../torque/setting";
import { Turning } from "../torque/Turning";
import { Working } from "../torque/Working";
import { moment } from "../words/times";

/** What was done differently here in a reading that belongs to no task of the build. */
function withoutTask(group: string): RowKinds["deviation"][] {
  return [...rows("deviation").values()].filter((one) => one.group === group && !rows("task").get(one.task));
}

export default function Torque({ id }: { id: string }): JSX.Element {
  const search = new URLSearchParams(useSearch());
  const plain = useView<TorqueView>(`/groups/${id}/torque`);
  const [kept, keep] = useKept(id, actor.value);
  const setting = kept && plain.data ? holding(kept, plain.data, actor.value) : null;
  const [changing, setChanging] = useState(false);
  const [tried, setTried] = useState<Setup | null | undefined>(undefined); // on the card, before it is set
  const setup = tried === undefined ? (setting?.setup ?? null) : tried;
  const between = setupQuery(setup);
  const withSetup = useView<TorqueView>(between && `/groups/${id}/torque?${between}`);
  const waits = between !== null && withSetup.data === null;
  const answer = between !== null && !waits ? withSetup : plain;
  const view = answer.data;
  useScreenOn(Boolean(view));

  const seen = view ? seeGroup(view) : null;
  const pass = seen?.pass;
  useEffect(() => {
    if (pass) toTop(); // another pass has another figure: it is seen whole
  }, [pass]);

  if (!view || !seen || kept === undefined) {
    return (
      <Screen opened title="Torque" place="queue">
        {answer.problem ? (
          <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
        ) : (
          <Fetching sentence="Fetching the bolt group" />
        )}
      </Screen>
    );
  }

  const taskId = search.get("task") ?? view.tasks[0] ?? null;
  const task = rows("task").get(taskId ?? "");
  const step = task?.plan.steps.find((one) => one.id === search.get("step"));
  const back = taskId ? `/tasks/${taskId}` : "/";
  const atIt = !task || isOn(taskSeen(task).row, actor.value);
  const helped = task ? matesOf(taskSeen(task).row).filter((person) => person !== actor.value) : [];

  const trouble = setting && wrenchTrouble(view, setting, seen.pass);
  const lookFirst = view.as_found_wanted && !setting?.faces;
  const card = !setting || changing || tried !== undefined || waits || trouble || lookFirst;
  const apart = notCounted(view, seen, actor.value);
  const startsAgain =
    view.starts_again && seen.pass === view.passes.length && seen.open.length === view.bolts.length;

  const frame = (main: ComponentChildren, matter: ComponentChildren): JSX.Element => (
    <Screen
      opened
      title={view.name}
      place="queue"
      work={
        <>
          {main}
          <Button label={atIt ? "Stop here" : "Back"} size={64} onPress={stopHere} />
        </>
      }
    >
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        <RefusedHere about={{ group: id }} />
        {startsAgain && (
          <p class="t-strong">The final pass was interrupted. It starts again at its first fastener.</p>
        )}
        {apart && <RefusalPanel {...apart} />}
        {matter}
        <LastLapse view={view} />
        <ReadTwice view={view} />
        <Readings view={view} />
        {withoutTask(id).map((one) => (
          <Differently key={one.id} one={one} />
        ))}
        {!card && seen.pass !== null && view.passes[seen.pass - 1]?.torque && (
          <Button label="Change torque wrench or setting" size={48} onPress={() => setChanging(true)} />
        )}
        {view.state !== "untouched" && (
          <LinkButton label="This was undone" href={`/undo/group/${id}`} kind="quiet" size={48} />
        )}
      </div>
    </Screen>
  );

  function stopHere(): void {
    if (
      atIt &&
      view &&
      seen &&
      seen.pass === view.passes.length &&
      seen.open.length < view.bolts.length &&
      seen.open.length > 0
    ) {
      void dispatch("torque.stop_here", { group: id });
    }
    go(back);
  }

  if (step?.kind === "run_in" || step?.kind === "snug") {
    const how = step.kind;
    const there = pending("torque.run_in", { group: id, how }).length > 0;
    const all = groupReached(step);
    const words = how === "run_in" ? "All run in, NOT tight" : "All snug, NOT tight";
    return frame(
      all ? (
        <LinkButton label="Back to the task" href={back} kind="act" size={72} wide />
      ) : (
        <MainButton
          size={96}
          label={words}
          onPress={() =>
            void dispatch("torque.run_in", {
              group: id,
              how,
              bolts: view.bolts.map((bolt) => bolt.n),
              helped,
              ...(taskId ? { task: taskId } : {}),
            })
          }
        />
      ),
      <>
        <p class="t-arm">{how === "run_in" ? "Run in, NOT tight" : "Snug, NOT tight"}</p>
        <BoltPattern
          group={view.name}
          seenFrom={view.plan.seen_from}
          up={view.plan.up}
          fasteners={seen.fasteners.map((one) => (there ? { ...one, state: "run_in" as const } : one))}
          pass={how === "run_in" ? "Run in" : "Snug"}
        />
        {all && (
          <NoticeLine>
            A loose end is open{view.made_good_by ? `: made good by ${view.made_good_by}` : ""}.
          </NoticeLine>
        )}
      </>,
    );
  }

  if (view.new_wanted.length > 0) {
    return frame(
      <MainButton
        label="New one fitted"
        onPress={() => void dispatch("torque.new_fastener", { group: id, bolts: view.new_wanted })}
      />,
      <RefusalPanel
        sentence={`Bolt ${view.new_wanted.join(", ")} was undone and is used once.`}
        remedy="Fit a new one, then say so. The old one goes in the scrap, not in a pocket."
      />,
    );
  }
  const turned = view.bolts.find((bolt) => bolt.already_turned)?.already_turned;
  if (seen.pass === null)
    return frame(
      <Finished view={view} unsent={seen.unsent} back={back} />,
      <>
        {turned && (
          <RefusalPanel
            sentence={`Already turned by ${nameOf(turned.by)}, ${moment(turned.at_ms)}.`}
            remedy="Do not turn it again. Ask the lead."
          />
        )}
        <Pattern view={view} />
        {view.wrenches.find((one) => one.wrench === setting?.wrench)?.shows === "click" && (
          <p>Before {setting?.wrench} is put away: back to its lowest setting, and never below it.</p>
        )}
      </>,
    );
  const asks = view.passes.find((one) => one.pass_no === seen.pass);
  if (asks?.turn && !asks.torque) {
    return (
      <Turning
        view={view}
        seen={seen}
        asks={asks}
        turn={asks.turn}
        task={taskId}
        helped={helped}
        frame={frame}
      />
    );
  }
  const wrench = view.wrenches.find((one) => one.wrench === setting?.wrench);
  const figures = passOf(wrench, seen.pass);
  if (!setting || card || !wrench || !figures) {
    return frame(
      null,
      <SettingCard
        view={view}
        pass={seen.pass}
        before={setting}
        trouble={trouble}
        setup={setup}
        waits={waits}
        problem={waits ? withSetup.problem : null}
        onSetup={setTried}
        onSet={(chosen) => {
          keep(keptFor(view, actor.value, chosen));
          setTried(undefined);
          setChanging(false);
        }}
      />,
    );
  }
  return (
    <Working
      view={view}
      seen={seen}
      setting={setting}
      wrench={wrench}
      pass={figures}
      task={taskId}
      helped={helped}
      onChange={() => setChanging(true)}
      frame={frame}
    />
  );
}

function Pattern({ view }: { view: TorqueView }): JSX.Element {
  const seen = seeGroup(view);
  const sign = view.countersign;
  return (
    <>
      <BoltPattern
        group={view.name}
        seenFrom={view.plan.seen_from}
        up={view.plan.up}
        fasteners={seen.fasteners}
        pass="All passes done"
      />
      {sign && (
        <p class="t-strong">
          Countersigned by {nameOf(sign.by)}, {moment(sign.at_ms)}
        </p>
      )}
    </>
  );
}

function Finished({ view, unsent, back }: { view: TorqueView; unsent: number; back: string }): JSX.Element {
  const asked =
    rows("group").get(view.group)?.check_asked_ms ||
    pending("torque.ask_check", { group: view.group }).length > 0;
  if (view.needs_countersign && !view.countersign && !asked) {
    return (
      <MainButton
        label="Ask for a check"
        onPress={() => {
          void dispatch("torque.ask_check", { group: view.group });
          go(back);
        }}
      />
    );
  }
  const who = view.who_may_check.filter((one) => one.here).map((one) => nameOf(one.person));
  return (
    <>
      {view.needs_countersign && !view.countersign && (
        <NoticeLine>
          {who.length > 0
            ? `${who.join(", ")} may check it.`
            : "Nobody here may check this. It waits for them."}
          {unsent > 0 && " The readings on this phone go first."}
        </NoticeLine>
      )}
      <LinkButton
        label={view.needs_countersign ? "Back to the task" : "All final"}
        href={back}
        kind="act"
        size={72}
        wide
      />
    </>
  );
}
