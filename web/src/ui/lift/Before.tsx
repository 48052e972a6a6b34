/** Before the lift: when, who comes, which place, what each bears phase by phase. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch, pending } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import { link } from "../../sync/link";
import type { Asking } from "../askNow";
import { FindTime } from "../days/FindTime";
import { Payload } from "../Payload";
import { Button, LinkButton, MainButton, Stub, TextField } from "../parts";
import { filled } from "../words/reason";
import { capital } from "../words/who";
import type { LiftView } from "./Drawing";
import { namesOf, shareWords } from "./words";

interface StageProps {
  view: LiftView;
  asking: Asking;
}

/** A moment as a date field wants it, on this phone's clock. */
function fieldOf(at: Date): string {
  const two = (n: number) => String(n).padStart(2, "0");
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** The field knows whole minutes, and half a second between two clocks must not make 9:29 out of half past. */
function toMinute(ms: number): number {
  return Math.round(ms / 60_000) * 60_000;
}

function nextHour(): string {
  const at = new Date();
  at.setHours(at.getHours() + 1, 0, 0, 0);
  return fieldOf(at);
}

export function CallIt({ view, asking }: StageProps): JSX.Element {
  const [when, setWhen] = useState(nextHour);
  const ms = when ? toMinute(new Date(when).getTime() + link.value.offset_ms) : Number.NaN;
  const [why, setWhy] = useState("");
  const best = view.verdicts.find((one) => one.figure_kg === "25");
  const above = best?.verdict === "above guidance";
  const verb = view.state === "stood_down" ? "Call it again" : "Call the lift";
  return (
    <div class="stack">
      {view.task && (
        <FindTime
          lift={view.id}
          onChoose={(chosen) => setWhen(fieldOf(new Date(toMinute(chosen - link.value.offset_ms))))}
        />
      )}
      <TextField
        label="When?"
        help="On this phone's clock."
        kind="datetime-local"
        value={when}
        onType={setWhen}
      />
      {above && (
        <TextField
          label="Why all the same?"
          help="It is recorded. Each lifter says yes to their own share."
          value={why}
          onType={setWhy}
          lines
          maxLength={2000}
        />
      )}
      <MainButton
        label={verb}
        blocked={
          view.unfit
            ? filled(view.unfit.says, view.unfit.params ?? {})
            : best?.verdict === "refused"
              ? "over twice the published figure"
              : above && !why.trim()
                ? "above guidance, write why"
                : !link.value.up
                  ? "no connection"
                  : Number.isNaN(ms)
                    ? "say when"
                    : asking.busy
                      ? "one moment"
                      : undefined
        }
        onPress={() =>
          void asking.ask(`/lifts/${view.id}/call`, {
            when_ms: ms,
            ...(above ? { above_reason_text: why.trim() } : {}),
          })
        }
      />
    </div>
  );
}

export function Answering({ view }: { view: LiftView }): JSX.Element {
  const answer = (will_come: boolean) =>
    void dispatch("lift.answer", { lift: view.id, will_come, round: view.round });
  const mine = view.my_places.length > 0;
  return (
    <section class="stack" aria-label="Who comes">
      {view.can.includes("lift.answer") && (
        <>
          {view.my_answer && (
            <p>{view.my_answer === "will_come" ? "You said: I will be there." : "You said: I can't come."}</p>
          )}
          {view.my_answer !== "will_come" && (
            <MainButton label="I will be there" onPress={() => answer(true)} />
          )}
          {view.my_answer !== "declined" && (
            <Button
              label="I can't come"
              heard={mine ? "I can't come: your place is free again" : undefined}
              size={64}
              wide
              onPress={() => answer(false)}
            />
          )}
          {pending("lift.answer", { lift: view.id }).length > 0 && (
            <Stub word="Your answer, on this phone only" />
          )}
        </>
      )}
      {view.will_come.length > 0 && <p>Will be there: {namesOf(view.will_come)}</p>}
      {view.no_answer.length > 0 && <p class="t-dim">No answer yet: {namesOf(view.no_answer)}</p>}
      {view.declined.length > 0 && <p class="t-dim">Can't come: {namesOf(view.declined)}</p>}
    </section>
  );
}

type PlaceView = LiftView["places"][number];

function whyNot({ says, way_on, params }: NonNullable<PlaceView["not_offered"]>): string {
  return filled(`${says} ${way_on ?? ""}`, params ?? {});
}

/** Said above the places instead, when no place is for this person and each for the same reason. */
function oneReason(places: readonly PlaceView[]): string | null {
  const reasons = new Set(places.map((one) => (one.not_offered ? whyNot(one.not_offered) : null)));
  return places.length > 1 && reasons.size === 1 ? ([...reasons][0] ?? null) : null;
}

function Place(props: { view: LiftView; place: PlaceView; saidOnce: boolean }): JSX.Element {
  const { view, place, saidOnce } = props;
  // Above guidance everybody says yes to their own figure (R20).
  const yes = Boolean(view.above_reason) && place.kind === "lifter";
  const here = { lift: view.id, place: place.place };
  const share = shareWords(place);
  const taking = pending("lift.take_place", here).length > 0;
  return (
    <li class="place-line">
      <span class="place-word">
        {capital(place.say)}: {place.person ? nameOf(place.person) : "nobody yet"}
        {place.ready ? " · ready" : ""}
      </span>
      {share && <span class="place-second">{share}</span>}
      {place.calls && <span class="place-second">calls the words</span>}
      {place.not_offered && !saidOnce && <span class="place-second">{whyNot(place.not_offered)}</span>}
      {place.proposed && !taking && (
        <span class="place-second">Suggested for you: so the heaviest share is as light as it can be.</span>
      )}
      {taking && <Stub word="Asked for, on this phone only" />}
      {place.offered && !taking && view.my_answer === "will_come" && (
        <Button
          label={yes ? `Yes, I bear up to ${place.worst_kg} kg` : "Take this place"}
          heard={`${yes ? `Yes, I bear up to ${place.worst_kg} kg` : "Take this place"}: ${place.say}`}
          size={56}
          onPress={() =>
            void dispatch("lift.take_place", {
              ...here,
              round: view.round,
              ...(yes ? { yes_to_my_share: true, my_share_kg: place.worst_kg } : {}),
            })
          }
        />
      )}
      {place.mine && view.can.includes("lift.leave_place") && (
        <Button
          label="Leave my place"
          heard={`Leave my place: ${place.say}`}
          size={56}
          onPress={() => void dispatch("lift.leave_place", { lift: view.id, round: view.round })}
        />
      )}
    </li>
  );
}

export function Places({ view }: { view: LiftView }): JSX.Element {
  const reason = oneReason(view.places);
  return (
    <section class="stack" aria-label="Places">
      <h2>Places</h2>
      {view.my_answer === null && view.can.includes("lift.answer") && (
        <p class="t-dim">Say first whether you come; then places are offered to you.</p>
      )}
      {reason && <p>{reason}</p>}
      {view.places.some((one) => one.not_offered?.code === "figure_unsaid") && (
        <LinkButton label="Say which figure suits me" href="/crew/me" />
      )}
      <ul class="place-list">
        {view.places.map((place) => (
          <Place key={place.place} view={view} place={place} saidOnce={reason !== null} />
        ))}
      </ul>
    </section>
  );
}

/** Who could take each empty place, by role and age: names alone, places with the same names together (R21). */
export function WhoCould({ view }: { view: LiftView }): JSX.Element | null {
  const byNames = new Map<string, string[]>();
  for (const place of view.places) {
    const names = namesOf(place.could_stand ?? []); // an answer that this phone kept from before does not say
    if (names) byNames.set(names, [...(byNames.get(names) ?? []), place.say]);
  }
  if (byNames.size === 0) return null;
  return (
    <section class="stack" aria-label="Who could stand where">
      <h2>Who could stand where</h2>
      <ul class="place-list">
        {[...byNames].map(([names, places]) => (
          <li key={names} class="place-line">
            <span class="place-word">{capital(places.join(" · "))}</span>
            <span class="place-second">{names}</span>
          </li>
        ))}
      </ul>
      <p class="t-dim">
        By role and age alone.{" "}
        {view.state === "drafted" || view.state === "stood_down"
          ? "Once it is called, everybody is offered places on their own phone."
          : "Places are offered to everybody on their own phone."}
      </p>
    </section>
  );
}

/** Load and how sure, path, method. */
export function Load({ view }: { view: LiftView }): JSX.Element {
  const { load } = view;
  const sure = load.mass_plus_minus_kg === "0" ? "" : ` ± ${load.mass_plus_minus_kg} kg`;
  return (
    <>
      <p class="t-strong">
        {load.mass_kg ? `${load.mass_kg} kg${sure}` : "Mass not known"}
        {load.how_known && <span class="place-second">, {load.how_known}</span>}
        {load.how_known_text && (
          <span class="place-second">
            , <Payload id={load.how_known_text} />
          </span>
        )}
      </p>
      <p>
        {view.people} lift and guide{view.places.some((one) => one.kind === "caller") ? ", one calls" : ""}
        {view.places.some((one) => one.kind === "lookout") ? ", one looks out" : ""}.
        {view.method ? ` ${view.method}` : ""}
      </p>
    </>
  );
}

/** What each bears in each phase; folded, since the drawing holds the worst of them. */
export function Phases({ view }: { view: LiftView }): JSX.Element | null {
  const phases = [...new Set(view.shares.map((one) => one.phase))];
  if (phases.length === 0) return null;
  const say = (support: string) => {
    const found = view.supports.find((one) => one.id === support);
    return found?.person === me.value?.person && found?.person
      ? `You, ${found.say}`
      : (found?.say ?? support);
  };
  return (
    <details class="fold">
      <summary>Phase by phase</summary>
      {phases.map((phase) => (
        <section key={phase} aria-label={phase}>
          <h3>{phase}</h3>
          <ul>
            {view.shares
              .filter((one) => one.phase === phase)
              .map((one) => (
                <li key={one.support}>
                  {say(one.support)}: {shareWords(one)}
                </li>
              ))}
          </ul>
        </section>
      ))}
    </details>
  );
}
