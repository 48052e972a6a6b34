/** A lift: where do I stand, what do I bear, do we go? */

import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, refusedOn } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import { useNow } from "../askNow";
import { ByVoice } from "../lift/ByVoice";
import { LiftDrawing, type LiftView, pathWords } from "../lift/Drawing";
import { After, Answering, CallerButton, CallIt, MyPlace, Places, Roll } from "../lift/Stages";
import { Button, LoadingTags, NoticeLine, RefusalPanel, SignalPanel } from "../parts";
import { AsOf, Screen } from "../Screen";
import { hazardWords } from "../words/hazards";
import { filled } from "../words/reason";
import { moment } from "../words/times";

/** The screen stays on while a lift goes on, where the browser allows it. */
function useScreenOn(on: boolean): void {
  useEffect(() => {
    if (!on || !navigator.wakeLock) return undefined;
    const lock = navigator.wakeLock.request("screen");
    lock.catch(() => undefined);
    return () => void lock.then((held) => held.release()).catch(() => undefined);
  }, [on]);
}

export default function Lift({ id }: { id: string }): JSX.Element {
  const answer = useView<LiftView>(`/lifts/${id}`);
  const asking = useNow();
  const view = answer.data;
  const live = view !== null && ["in_place", "lifting", "held"].includes(view.state);
  useScreenOn(live);
  if (!view) {
    return (
      <Screen title="Lift" place="lifts">
        {answer.problem ? (
          <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
        ) : (
          <LoadingTags />
        )}
      </Screen>
    );
  }
  const member = rows("member").get(me.value?.person ?? "");
  const mayCall = view.can.includes("lift.call");
  const lead = member?.role === "lead" || mayCall;
  const gathering = ["called", "crewed", "in_place"].includes(view.state);
  const props = { view, asking };
  const callers = view.i_call && (gathering || view.state === "lifting" || view.state === "held");
  const refused = refusedOn({ lift: id });
  return (
    <Screen title={view.title} place="lifts" {...(callers ? { work: <CallerButton {...props} /> } : {})}>
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        <p class="t-strong">
          {view.state.replaceAll("_", " ")}
          {view.when_ms && gathering ? `, ${moment(view.when_ms)}` : ""}
        </p>
        {view.state === "held" && <p class="t-figure">HELD</p>}
        {view.state === "held" && view.held && (
          <p class="t-arm">
            {nameOf(view.held.by)} stopped it. Hold still. Listen to {nameOf(view.caller)}.
          </p>
        )}
        {gathering && view.stopped && (
          <NoticeLine>
            {nameOf(view.stopped.by)} stopped it, {moment(view.stopped.at_ms)}. The roll begins anew.
          </NoticeLine>
        )}
        {view.state === "lifting" && (
          <>
            <p class="t-arm">{view.words[1] ?? "Lift"}</p>
            <p>Stop by voice first: “{view.stop_word}”. Then press STOP.</p>
          </>
        )}
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        {refused.map((one) => (
          <RefusalPanel
            key={one.id}
            sentence={one.problem?.detail ?? "It was refused."}
            remedy={one.problem?.way_on}
          />
        ))}
        {view.unfit && (
          <RefusalPanel
            sentence={`Refused: ${filled(view.unfit.says, view.unfit.params ?? {})}`}
            remedy={filled(view.unfit.way_on, view.unfit.params ?? {})}
          />
        )}
        {view.state !== "lifting" && view.state !== "held" && (
          <p>
            {view.load.mass_kg ? `${view.load.mass_kg} kg` : "Mass not known"}
            {view.load.mass_plus_minus_kg !== "0" ? ` ± ${view.load.mass_plus_minus_kg}` : ""}
            {view.load.how_known ? `, ${view.load.how_known}` : ""}. {view.people} lift and guide.
            {pathWords(view) ? ` Path ${pathWords(view)}.` : ""}
          </p>
        )}
        {(gathering || view.state === "lifting" || view.state === "held") && <MyPlace {...props} />}
        {view.i_call && (gathering || view.state === "held") && <Roll {...props} />}
        {(gathering || view.state === "drafted") && <LiftDrawing view={view} />}
        {(gathering || view.state === "drafted") && (
          <NoticeLine>
            These shares are worked out by statics. They have not been judged against any guidance. The lead
            decides, with the kit's manual.
          </NoticeLine>
        )}
        {(gathering || view.state === "drafted") && <SignalPanel {...hazardWords("lift")} />}
        {view.state === "drafted" && lead && <CallIt {...props} />}
        {view.state === "drafted" && !lead && <NoticeLine>The lead calls it.</NoticeLine>}
        {gathering && <Answering {...props} />}
        {gathering && <Places {...props} />}
        {(view.set_down || view.landed) && <After {...props} />}
        {view.state === "stood_down" && <NoticeLine>Stood down.</NoticeLine>}
        {view.state === "stood_down" && mayCall && <CallIt {...props} />}
        {view.can.includes("lift.report_by_voice") && view.state !== "lifting" && view.state !== "held" && (
          <ByVoice view={view} />
        )}
        {!view.i_call &&
          (view.state === "lifting" || view.state === "held") &&
          view.can.includes("lift.set_down") && (
            <Button
              label="Set down, said for the caller"
              size={56}
              wide
              onPress={() => void dispatch("lift.set_down", { lift: id })}
            />
          )}
        {view.can.includes("lift.stand_down") && (
          <Button
            label="Stand it down"
            size={48}
            onPress={() => void dispatch("lift.stand_down", { lift: id, reason: "other" })}
          />
        )}
        {view.task && <a href={`/tasks/${view.task}`}>Belongs to {view.task}</a>}
      </div>
    </Screen>
  );
}
