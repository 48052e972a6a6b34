/** A lift: where do I stand, what do I bear, do we go? */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { saidDown } from "../../app/lifts";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { nameOf } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import { AsOf } from "../AsOf";
import { type Asking, useNow } from "../askNow";
import { Fetching } from "../Fetching";
import { toTop } from "../go";
import { After, SignLanded } from "../lift/After";
import { Answering, CallIt, Load, Phases, Places, WhoCould } from "../lift/Before";
import { ByVoice, ByVoiceButton } from "../lift/ByVoice";
import { LiftDrawing, type LiftView, pathWords } from "../lift/Drawing";
import { HowToFind } from "../lift/HowToFind";
import { VerdictPart } from "../lift/Verdict";
import { Ways } from "../lift/Ways";
import { unknownLoad, Weigh } from "../lift/Weigh";
import { Briefing, CallerButton, MyPlace, mustSayReady, Ready, ReadyButton, Roll, Up } from "../lift/Working";
import { stateWords } from "../lift/words";
import { Button, NoticeLine, RefusalPanel, SignalPanel, Stub } from "../parts";
import { RefusedHere } from "../RefusedHere";
import { Screen } from "../Screen";
import { useScreenOn } from "../screenOn";
import { hazardWords } from "../words/hazards";
import { filled } from "../words/reason";
import { reasonWord } from "../words/reasons";
import { moment } from "../words/times";
import { capital } from "../words/who";

/** The one main button: ready first, then the caller's, then the signature. */
function mainButton(view: LiftView, asking: Asking): JSX.Element | undefined {
  if (view.set_down && !view.landed) return <SignLanded view={view} />;
  if (saidDown(view.id)) return <Stub word="Set down, on this phone only" />;
  if (view.can.includes("lift.ready") && mustSayReady(view) && !view.i_am_ready)
    return <ReadyButton view={view} />;
  const mayWork = ["lift.roll", "lift.go_on", "lift.set_down"].some((kind) => view.can.includes(kind));
  return view.i_call && mayWork ? <CallerButton view={view} asking={asking} /> : undefined;
}

/** The load and who stands where; on a wide screen at the left of all the rest. */
function Drawn({ view }: { view: LiftView }): JSX.Element {
  return (
    <div class="stack lift-drawn">
      <Load view={view} />
      <LiftDrawing view={view} />
    </div>
  );
}

/** Verdict, what would make it work, phases. */
function Judged({ view, asking }: { view: LiftView; asking: Asking }): JSX.Element {
  return (
    <>
      <VerdictPart view={view} />
      {(view.unjudged ?? []).map((left) => (
        <NoticeLine key={left}>{left}</NoticeLine>
      ))}
      <Ways view={view} asking={asking} />
      <Phases view={view} />
    </>
  );
}

function Gathering({ view, asking }: { view: LiftView; asking: Asking }): JSX.Element {
  const placed = view.my_places.length > 0;
  const mayReport = view.can.includes("lift.report_by_voice");
  // Without a link the roll to read aloud comes first; once there it stays, with what was typed.
  const [voice, setVoice] = useState(false);
  const cutOff = placed && !link.value.up;
  useEffect(() => {
    if (cutOff) setVoice(true);
  }, [cutOff]);
  // Who has said the word, or calls the roll, has read it: the rest is folded away.
  const settled =
    placed && (view.i_am_ready || (view.i_call && !mustSayReady(view) && view.state !== "called"));
  const rest = (
    <div class="stack lift-two">
      <div class="stack">
        <Briefing view={view} />
        <Answering view={view} />
        {!placed && <SignalPanel {...hazardWords("lift")} />}
      </div>
      <Drawn view={view} />
      <div class="stack">
        <Judged view={view} asking={asking} />
        <Places view={view} />
        <WhoCould view={view} />
      </div>
    </div>
  );
  return (
    <>
      {view.stopped && (
        <NoticeLine>
          {view.stopped.by ? capital(nameOf(view.stopped.by)) : "Somebody"} stopped it,{" "}
          {moment(view.stopped.at_ms)}. The roll begins anew.
        </NoticeLine>
      )}
      <MyPlace view={view} />
      {mayReport && voice && <ByVoice view={view} />}
      {view.i_call && view.can.includes("lift.roll") && !cutOff && <Roll view={view} asking={asking} />}
      {view.i_call && view.state === "called" && (
        <NoticeLine>You call. The roll opens when every place has its name.</NoticeLine>
      )}
      {settled && <Ready view={view} />}
      {settled || cutOff ? (
        <details class="fold">
          <summary>Briefing, load and places</summary>
          {rest}
        </details>
      ) : (
        rest
      )}
      {mayReport && !voice && (
        <ByVoiceButton
          onPress={() => {
            setVoice(true);
            toTop();
          }}
        />
      )}
    </>
  );
}

function Drafted({ view, asking }: { view: LiftView; asking: Asking }): JSX.Element {
  const row = rows("lift").get(view.id);
  const [voice, setVoice] = useState(false);
  return (
    <>
      {view.state === "stood_down" && row?.stood_down && (
        <p>
          Stood down by {nameOf(row.stood_down.by)}, {moment(row.stood_down.at_ms)}
          {row.stood_down_why && row.stood_down_why !== "other"
            ? `: ${reasonWord(row.stood_down_why).toLowerCase()}.`
            : "."}
        </p>
      )}
      {(row?.crossed_out ?? []).map((sign) => (
        <div key={sign.at_ms}>
          <p class="crossed-out">
            Landed, signed by {nameOf(sign.by)}, {moment(sign.at_ms)}
          </p>
          <p>Its task was undone: it is called and lifted again.</p>
        </div>
      ))}
      <div class="stack lift-two">
        <Drawn view={view} />
        <div class="stack">
          <Judged view={view} asking={asking} />
          <SignalPanel {...hazardWords("lift")} />
          {pathWords(view) && <p>Path {pathWords(view)}.</p>}
          {!view.unfit && <WhoCould view={view} />}
          {view.can.includes("lift.weigh") ? <Weigh view={view} /> : unknownLoad(view) && <HowToFind />}
          {view.can.includes("lift.call") ? (
            <CallIt view={view} asking={asking} />
          ) : (
            <NoticeLine>{view.unfit ? "It can't be called as it is." : "A lead calls it."}</NoticeLine>
          )}
        </div>
      </div>
      {view.can.includes("lift.report_by_voice") &&
        (voice ? <ByVoice view={view} /> : <ByVoiceButton onPress={() => setVoice(true)} />)}
    </>
  );
}

/** Said here without a link, and enough: nobody is asked for anything any more (R18, R22). */
function SaidDown(): JSX.Element {
  return (
    <>
      <p class="t-arm">You said here that it is down.</p>
      <p>The others read it once this phone has its link again; then one more who was there signs.</p>
    </>
  );
}

function Body({ view, asking }: { view: LiftView; asking: Asking }): JSX.Element {
  if (view.set_down || view.landed) return <After view={view} />;
  if (saidDown(view.id)) return <SaidDown />;
  if (view.state === "lifting" || view.state === "held") {
    return (
      <>
        <Up view={view} />
        <MyPlace view={view} />
        {view.i_call && view.can.includes("lift.roll") && !view.lowering && (
          <Roll view={view} asking={asking} />
        )}
        {!view.i_call && view.can.includes("lift.set_down") && (
          <Button
            label="Set down, said for the caller"
            size={56}
            wide
            onPress={() => void dispatch("lift.set_down", { lift: view.id })}
          />
        )}
      </>
    );
  }
  if (view.state === "drafted" || view.state === "stood_down") return <Drafted view={view} asking={asking} />;
  return <Gathering view={view} asking={asking} />;
}

export default function Lift({ id }: { id: string }): JSX.Element {
  const answer = useView<LiftView>(`/lifts/${id}`);
  const asking = useNow();
  const view = answer.data;
  const up = view?.state === "lifting" || view?.state === "held";
  useScreenOn(up || view?.state === "in_place");
  // Another stage is another screen: it begins at its top.
  const stage = view ? `${view.state}${view.set_down ? " down" : ""}${view.lowering ? " lowering" : ""}` : "";
  useEffect(() => {
    if (stage) toTop();
  }, [stage]);
  if (!view) {
    return (
      <Screen title="Lift" place="lifts" lift={id}>
        {answer.problem ? (
          <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
        ) : (
          <Fetching sentence="Fetching the lift" />
        )}
      </Screen>
    );
  }
  const work = mainButton(view, asking);
  return (
    <Screen title={view.title} place="lifts" lift={id} {...(work ? { work } : {})}>
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        <p class={up && !view.set_down ? "heard" : "t-strong"} role="status">
          {stateWords(view)}
        </p>
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        <RefusedHere about={{ lift: id }} />
        {view.unfit && !up && (
          <RefusalPanel
            sentence={`Refused: ${filled(view.unfit.says, view.unfit.params ?? {})}`}
            remedy={filled(view.unfit.way_on, view.unfit.params ?? {})}
          />
        )}
        <Body view={view} asking={asking} />
        {view.can.includes("lift.stand_down") && !saidDown(id) && (
          <Button
            label="Stand it down"
            size={56}
            wide
            onPress={() => void dispatch("lift.stand_down", { lift: id, reason: "other", round: view.round })}
          />
        )}
        {view.task && !up && (
          <a class="place-line" href={`/tasks/${view.task}`}>
            <span class="place-word">Belongs to {view.task}</span>
          </a>
        )}
      </div>
    </Screen>
  );
}
