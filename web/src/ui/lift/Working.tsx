/** The lift itself: the briefing, the roll call, the words, held. The voice leads, one phone ticks (R18, R19). */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { dispatch, pending } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import { link } from "../../sync/link";
import { soundStop, unlockSound } from "../alarm";
import type { Asking } from "../askNow";
import { OutILooked } from "../Beneath";
import { Button, MainButton, NoticeLine, RollRow, SignalPanel, Stub, Tick } from "../parts";
import { hazardWords } from "../words/hazards";
import { filled } from "../words/reason";
import { toTheSecond } from "../words/times";
import { capital } from "../words/who";
import { type LiftView, pathWords } from "./Drawing";
import { shareWords } from "./words";

interface StageProps {
  view: LiftView;
  asking: Asking;
}

/** One who only calls says so by calling; everybody else reads the briefing and says *ready*. */
export function mustSayReady(view: LiftView): boolean {
  return view.places.some((place) => place.mine && place.kind !== "caller");
}

/** Where I stand, what I bear, at worst: 34 px, for arm's length. */
export function MyPlace({ view }: { view: LiftView }): JSX.Element | null {
  const mine = view.places.filter((place) => place.mine);
  if (mine.length === 0) return null;
  return (
    <section class="stack card" aria-label="Your place">
      {mine.map((place) => {
        const share = shareWords(place);
        return (
          <p key={place.place} class="t-arm">
            {place.kind !== "caller"
              ? capital(place.say)
              : mine.length > 1
                ? "You call"
                : "You call, and carry nothing."}
            {share
              ? `: ${share}`
              : place.kind === "lookout"
                ? ": hands off, and watch."
                : place.kind === "guide"
                  ? ": you guide and never lift."
                  : ""}
          </p>
        );
      })}
      {pathWords(view) && <p class="t-strong">Path {pathWords(view)}</p>}
      {view.path?.say && <p>{view.path.say}</p>}
    </section>
  );
}

/** One's own place and share in the briefing's words, and who or what bears the rest. */
function MyPart({ view }: { view: LiftView }): JSX.Element {
  const lifts = view.places.filter((place) => place.kind === "lifter");
  const mine = view.places.filter((place) => place.mine && place.kind !== "caller");
  return (
    <>
      {mine.map((place) => (
        <p key={place.place} class="t-strong">
          Your place: {place.say}.{" "}
          {place.kind === "lifter"
            ? `You bear ${shareWords(place) ?? "a share that is not known"}.`
            : place.kind === "lookout"
              ? "You watch, and bear nothing."
              : "You guide, and bear nothing."}
        </p>
      ))}
      {lifts.length === 0 && <p>Machines bear it; people guide.</p>}
    </>
  );
}

/** The briefing, read before gloves: who calls, the stop word, what can hurt, the plan's own lines. */
export function Briefing({ view }: { view: LiftView }): JSX.Element | null {
  if (view.my_places.length === 0) return null;
  const lookout = view.places.find((place) => place.kind === "lookout");
  const said = pending("lift.ready", { lift: view.id }).length > 0;
  return (
    <section class="stack" aria-label="Briefing">
      <h2>Briefing</h2>
      <p class="t-strong">
        {view.i_call ? "You call." : view.caller ? `${nameOf(view.caller)} calls.` : "Nobody calls yet."}{" "}
        {lookout?.person ? `Lookout: ${nameOf(lookout.person)}, hands off.` : ""}
      </p>
      <p class="t-strong">The stop word is “{view.stop_word}”. Anybody says it.</p>
      <MyPart view={view} />
      <ul class="briefing">
        {view.briefing.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <SignalPanel {...hazardWords("lift")} />
      {said && <Stub word="Your word, on this phone only" />}
    </section>
  );
}

/** After the word: nothing more to read. *Not ready* is there until *Lift*. */
export function Ready({ view }: { view: LiftView }): JSX.Element | null {
  if (!view.i_am_ready || !mustSayReady(view)) return null;
  return (
    <section class="stack" aria-label="You are ready">
      <p class="t-strong">You are ready. Gloves on, phone in the pocket.</p>
      <p>
        {view.i_call ? "You call." : view.caller ? `${nameOf(view.caller)} calls.` : "Nobody calls yet."} The
        stop word is “{view.stop_word}”. Anybody says it.
      </p>
      <Button
        label="Not ready"
        size={72}
        wide
        onPress={() => void dispatch("lift.ready", { lift: view.id, ready: false, round: view.round })}
      />
    </section>
  );
}

/** Two opposite words, both there until *Lift*: nobody is ready by silence. */
export function ReadyButton({ view }: { view: LiftView }): JSX.Element {
  const [said, setSaid] = useState(false);
  const say = (ready: boolean) => {
    unlockSound();
    setSaid(!ready);
    void dispatch("lift.ready", { lift: view.id, ready, round: view.round });
  };
  return (
    <>
      <MainButton label="I have read it, I'm ready" size={96} onPress={() => say(true)} />
      {said ? (
        <p role="status">You said: not ready. The caller sees it at your place.</p>
      ) : (
        <Button label="Not ready" size={64} wide onPress={() => say(false)} />
      )}
    </>
  );
}

/** The plan's own words, in order, large enough to be read from the hook to the bench. */
function Words({ view, from = 0 }: { view: LiftView; from?: number }): JSX.Element {
  return (
    <ol class="words-to-say" start={from + 1}>
      {view.words.slice(from).map((word) => (
        <li key={word} class="t-arm">
          {word}
        </li>
      ))}
    </ol>
  );
}

export function Roll({ view, asking }: StageProps): JSX.Element {
  const floor = (word: { children_out: boolean } | { nobody_beneath: boolean }) =>
    void asking.ask(`/lifts/${view.id}/floor`, word);
  const old = view.places.some((place) => place.in_roll && place.ticked_ms !== null && !place.tick_fresh);
  return (
    <section class="stack" aria-label="Roll call">
      <h2>Say these words</h2>
      <Words view={view} />
      <h2>Read the places aloud</h2>
      <p>Press a name when it answers.</p>
      {old && <NoticeLine>The roll call is over five minutes old. Read it again.</NoticeLine>}
      {view.places
        .filter((place) => place.in_roll)
        .map((place) => (
          <RollRow
            key={place.place}
            place={capital(place.say)}
            name={place.person ? nameOf(place.person) : "nobody"}
            inPlace={place.tick_fresh}
            blocked={place.person ? (place.ready ? undefined : "not ready yet") : "nobody there"}
            onPress={() =>
              void asking.ask(`/lifts/${view.id}/roll`, { place: place.place, here: !place.tick_fresh })
            }
          />
        ))}
      <Tick
        word="Children are out"
        second={view.children_in > 0 ? `${view.children_in} signed in as here` : undefined}
        ticked={view.children_out}
        onTick={(on) => floor({ children_out: on })}
      />
      <Tick
        word="Nobody is beneath"
        second={
          view.under.length > 0
            ? `${view.under.map((one) => nameOf(one)).join(", ")}: under the car`
            : undefined
        }
        ticked={view.nobody_beneath}
        onTick={(on) => floor({ nobody_beneath: on })}
      />
      {view.under.map((person) => (
        <OutILooked key={person} person={person} />
      ))}
    </section>
  );
}

/** The one main button of the caller, with what is missing in its label. */
export function CallerButton({ view, asking }: StageProps): JSX.Element | null {
  const want = view.wants[0];
  const blocked = !link.value.up
    ? "no link, lift by voice"
    : want
      ? filled(want.says, want.params ?? {})
      : asking.busy
        ? "one moment"
        : undefined;
  if (view.state === "lifting" || view.lowering) {
    return (
      <MainButton
        label="Set down"
        size={96}
        onPress={() => void dispatch("lift.set_down", { lift: view.id })}
      />
    );
  }
  if (view.state === "held") {
    return (
      <div class="two-up">
        <Button
          label="Lower it"
          size={96}
          blocked={link.value.up ? undefined : "no link, lower by voice"}
          onPress={() => void asking.ask(`/lifts/${view.id}/lower`)}
        />
        <MainButton
          label="Go on"
          size={96}
          blocked={blocked}
          onPress={() => void asking.ask(`/lifts/${view.id}/go-on`)}
        />
      </div>
    );
  }
  return (
    <MainButton
      label="Lift"
      size={96}
      blocked={blocked}
      onPress={() => void asking.ask(`/lifts/${view.id}/lift`)}
    />
  );
}

/** Somebody went under while the load is up (R18, R27): everybody reads it, and the caller hears it too. */
function UnderTheLoad({ view }: { view: LiftView }): JSX.Element | null {
  const news = view.i_call ? view.under.join(" ") : "";
  useEffect(() => {
    if (news) soundStop();
  }, [news]);
  if (view.under.length === 0) return null;
  return (
    <SignalPanel
      word="danger"
      what={view.under.map((one) => `${capital(nameOf(one))} ${isAre(one)} under the car.`).join(" ")}
      does="A load that comes down kills."
      how={`Shout “${view.stop_word}” and hold still. Nobody lowers it until they are out.`}
      pictograms={["warn_load", "dont_beneath"]}
    />
  );
}

const isAre = (person: string): string => (person === me.value?.person ? "are" : "is");

/** While it is up: the words that come, how it is stopped, and who is under it. Nothing else. */
export function Up({ view }: { view: LiftView }): JSX.Element {
  const held = view.state === "held";
  return (
    <section class="stack" aria-label={held ? "Held" : "Lifting"}>
      <UnderTheLoad view={view} />
      {held && !view.lowering && (
        <>
          <p class="held-word">HELD</p>
          {view.held && (
            <p class="t-arm">
              {capital(nameOf(view.held.by))} stopped it at {toTheSecond(view.held.at_ms)}.
            </p>
          )}
          <p class="t-arm">
            {view.i_call
              ? "Lower it, or call the roll again and go on."
              : `Hold still. Listen to ${view.caller ? nameOf(view.caller) : "the caller"}.`}
          </p>
        </>
      )}
      {view.lowering && <p class="t-arm">Lower it slowly, on the caller's word.</p>}
      {!held && <Words view={view} from={Math.min(1, view.words.length - 1)} />}
      <p class="t-strong">
        {link.value.up ? `Stop by voice first: “${view.stop_word}”.` : "No link: stop by voice."}
      </p>
    </section>
  );
}
