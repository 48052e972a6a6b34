/** What each stage of a lift asks of the one who looks: answer, place, ready, roll, lift, set down, sign. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch, pending } from "../../app/outbox";
import { nameOf } from "../../app/session";
import { link } from "../../sync/link";
import { unlockSound } from "../alarm";
import type { Asking } from "../askNow";
import { Button, Field, MainButton, NoticeLine, RollRow, Stub, Tick } from "../parts";
import { filled } from "../words/reason";
import { moment } from "../words/times";
import type { LiftView } from "./Drawing";

interface StageProps {
  view: LiftView;
  asking: Asking;
}

export function CallIt({ view, asking }: StageProps): JSX.Element {
  const [when, setWhen] = useState("");
  const ms = when ? new Date(when).getTime() : Number.NaN;
  return (
    <div class="stack">
      <Field label="When?">
        {({ id, describedBy }) => (
          <input
            id={id}
            class="text-input"
            type="datetime-local"
            aria-describedby={describedBy}
            value={when}
            onInput={(e) => setWhen(e.currentTarget.value)}
          />
        )}
      </Field>
      <MainButton
        label="Call the lift"
        blocked={
          view.unfit
            ? filled(view.unfit.says, view.unfit.params ?? {})
            : Number.isNaN(ms)
              ? "say when"
              : asking.busy
                ? "one moment"
                : undefined
        }
        onPress={() => void asking.ask(`/lifts/${view.id}/call`, { when_ms: ms })}
      />
    </div>
  );
}

export function Answering({ view }: StageProps): JSX.Element {
  const answer = (will_come: boolean) => void dispatch("lift.answer", { lift: view.id, will_come });
  return (
    <div class="stack">
      {view.my_answer && (
        <p>{view.my_answer === "will_come" ? "You said: I will be there." : "You said: I can't come."}</p>
      )}
      {view.my_answer !== "will_come" && <MainButton label="I will be there" onPress={() => answer(true)} />}
      {view.my_answer !== "declined" && (
        <Button label="I can't come" size={64} wide onPress={() => answer(false)} />
      )}
      {pending("lift.answer", { lift: view.id }).length > 0 && (
        <Stub word="Your answer, on this phone only" />
      )}
      {view.will_come.length > 0 && (
        <p>
          Will be there:{" "}
          {view.will_come
            .map((one) => nameOf(one))
            .sort()
            .join(", ")}
        </p>
      )}
      {view.no_answer.length > 0 && (
        <p class="t-dim">
          No answer yet:{" "}
          {view.no_answer
            .map((one) => nameOf(one))
            .sort()
            .join(", ")}
        </p>
      )}
    </div>
  );
}

export function Places({ view }: StageProps): JSX.Element {
  return (
    <ul class="place-list">
      {view.places.map((place) => (
        <li key={place.place} class="place-line">
          <span class="place-word">
            {place.say}: {place.person ? nameOf(place.person) : "nobody yet"}
            {place.ready ? " · ready" : ""}
          </span>
          {place.nominal_kg && (
            <span class="place-second">
              {place.nominal_kg} kg, at worst {place.worst_kg} kg
            </span>
          )}
          {place.not_offered && !place.person && (
            <span class="place-second">{filled(place.not_offered.says, place.not_offered.params ?? {})}</span>
          )}
          {place.offered && !place.person && view.my_answer === "will_come" && (
            <Button
              label="Take this place"
              heard={`Take this place: ${place.say}`}
              size={48}
              onPress={() => void dispatch("lift.take_place", { lift: view.id, place: place.place })}
            />
          )}
          {place.mine && (
            <Button
              label="Leave my place"
              heard={`Leave my place: ${place.say}`}
              size={48}
              onPress={() => void dispatch("lift.leave_place", { lift: view.id })}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

export function MyPlace({ view }: StageProps): JSX.Element | null {
  const mine = view.places.filter((place) => place.mine);
  if (mine.length === 0) return null;
  return (
    <section class="stack card" aria-label="Your place">
      {mine.map((place) => (
        <p key={place.place} class="t-arm">
          {place.say}
          {place.nominal_kg ? `: ${place.nominal_kg} kg, at worst ${place.worst_kg} kg` : ""}
        </p>
      ))}
      <p>
        {view.caller ? `${nameOf(view.caller)} calls` : "Nobody calls yet"}. The stop word is “
        {view.stop_word}”. Anybody says it.
      </p>
      <ul>
        {view.briefing.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {view.i_am_ready ? (
        <>
          <p class="t-strong">You are ready. Gloves on, phone in the pocket.</p>
          <Button
            label="Not ready"
            size={64}
            wide
            onPress={() => void dispatch("lift.ready", { lift: view.id, ready: false })}
          />
        </>
      ) : (
        <MainButton
          label="I have read it, I'm ready"
          size={96}
          onPress={() => {
            unlockSound();
            void dispatch("lift.ready", { lift: view.id, ready: true });
          }}
        />
      )}
    </section>
  );
}

export function Roll({ view, asking }: StageProps): JSX.Element {
  return (
    <section class="stack" aria-label="Roll call">
      <h2>Read the places aloud</h2>
      <p class="t-arm">{view.words[0] ?? "Ready?"}</p>
      {view.places
        .filter((place) => place.in_roll)
        .map((place) => (
          <RollRow
            key={place.place}
            place={place.say}
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
        ticked={view.children_out}
        onTick={(children_out) =>
          void asking.ask(`/lifts/${view.id}/floor`, { children_out, nobody_beneath: view.nobody_beneath })
        }
      />
      <Tick
        word="Nobody is beneath"
        ticked={view.nobody_beneath}
        onTick={(nobody_beneath) =>
          void asking.ask(`/lifts/${view.id}/floor`, { children_out: view.children_out, nobody_beneath })
        }
      />
    </section>
  );
}

/** The one main button of the caller. */
export function CallerButton({ view, asking }: StageProps): JSX.Element | null {
  const want = view.wants[0];
  const blocked = !link.value.up
    ? "no link: lift by voice"
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
      <>
        <Button
          label="Lower it"
          size={72}
          wide
          blocked={link.value.up ? undefined : "no link: lower by voice"}
          onPress={() => void asking.ask(`/lifts/${view.id}/lower`)}
        />
        <MainButton
          label="Go on"
          size={96}
          blocked={blocked}
          onPress={() => void asking.ask(`/lifts/${view.id}/go-on`)}
        />
      </>
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

export function After({ view }: StageProps): JSX.Element {
  const there = view.can.includes("lift.sign_landed");
  return (
    <div class="stack">
      {view.set_down && (
        <p>
          Set down, said by {nameOf(view.set_down.by)}, {moment(view.set_down.at_ms)}
          {view.by_voice ? ", by voice" : ""}.
        </p>
      )}
      {view.landed ? (
        <p class="t-strong">
          Landed, signed by {nameOf(view.landed.by)}, {moment(view.landed.at_ms)}
        </p>
      ) : (
        view.set_down && (
          <MainButton
            label="Sign as landed"
            blocked={there ? undefined : "someone else who was there must sign"}
            onPress={() => void dispatch("lift.sign_landed", { lift: view.id })}
          />
        )
      )}
      {!view.landed && <NoticeLine>What was propped is a loose end until it is made good.</NoticeLine>}
    </div>
  );
}
