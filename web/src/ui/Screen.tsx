/** The frame of every screen, filled from what this phone knows: build, unsent count, calls, link, places. */

import type { ComponentChildren, JSX } from "preact";
import { useEffect } from "preact/hooks";
import { unansweredCount, waitingCount } from "../app/outbox";
import { build, fullNameOf, me, typingFor } from "../app/session";
import { link } from "../sync/link";
import { StillUnder } from "./Beneath";
import { Beside, closesTo, listBeside, lookedAt, wide } from "./Beside";
import { Calls } from "./Calls";
import { StopEngine } from "./gates/StopEngine";
import { go } from "./go";
import { isUp } from "./lift/live";
import { liftToStop, StopHere, StopWatch } from "./lift/StopWatch";
import { NewVersion } from "./NewVersion";
import { NotKept } from "./NotKept";
import { BottomBar, Button, DemoBanner, Layout, NoticeLine, Rail, TopStrip } from "./parts";
import { PLACES, SHED } from "./words/places";
import { moment } from "./words/times";

export interface ScreenProps {
  title: string;
  /** Key of the place this screen belongs to. */
  place: string;
  /** The fixed main button of a work screen; the bar gives way to it. */
  work?: ComponentChildren;
  /** The lift this screen shows; while it goes on, anybody stops it from here (R19). */
  lift?: string;
  /** Opened from a list: on a wide screen that list stays at the left, this at the right, and Esc closes it. */
  opened?: boolean;
  /** Hide the h1 on screen where the matter itself says it. */
  titleHidden?: boolean;
  children: ComponentChildren;
}

export function initials(name: string | null | undefined): string {
  return (name ?? "?")
    .split(/[\s-]+/)
    .map((part) => part[0] ?? "")
    .slice(0, 2)
    .join("")
    .toUpperCase();
}

/** The rooms of the Shed stand behind it on the phone's bar. */
function placeOnPhone(place: string): string {
  return SHED.some(({ key }) => key === place) ? "shed" : place;
}

export function Screen(props: ScreenProps): JSX.Element {
  const name = me.value?.name;
  const stop = liftToStop(props.lift);
  // While a lift is worked, the bar of places gives way on its own screen; elsewhere STOP stands above it.
  const bar =
    props.work === undefined && !(stop && props.lift === stop.id) ? (
      <BottomBar places={PLACES} everythingHref="/everything" current={placeOnPhone(props.place)} />
    ) : undefined;
  const two = props.opened === true && wide.value;
  useEffect(() => {
    if (!props.opened) lookedAt(props.place);
  }, [props.place, props.opened]);
  useEffect(() => {
    if (!two) return undefined;
    const close = (event: KeyboardEvent) => {
      if (event.key === "Escape" && !document.querySelector("dialog[open]")) go(closesTo(props.place));
    };
    addEventListener("keydown", close);
    return () => removeEventListener("keydown", close);
  }, [two, props.place]);
  const matter = (
    <>
      {!link.value.up && (
        <NoticeLine>No connection since {moment(link.value.since_ms)}. Go on, it is kept here.</NoticeLine>
      )}
      {typingFor.value && (
        <div class="row-of-buttons">
          <NoticeLine>You type for {fullNameOf(typingFor.value)}. The record says so.</NoticeLine>
          <Button
            label="Type for myself again"
            size={48}
            onPress={() => {
              typingFor.value = null;
            }}
          />
        </div>
      )}
      {props.work === undefined && !stop && <NewVersion />}
      <NotKept />
      <StopWatch />
      <StopEngine />
      <StillUnder />
      <h1 class={props.titleHidden ? "heard" : undefined}>{props.title}</h1>
      {props.children}
    </>
  );
  return (
    <Layout
      strip={
        <>
          {me.value?.mode === "demo" && <DemoBanner />}
          <TopStrip
            build={build.value?.name ?? "Yokemate"}
            unsent={waitingCount.value}
            unanswered={unansweredCount.value}
            unsentHref="/here"
            initials={name ? initials(name) : undefined}
            name={name ?? undefined}
            meHref="/crew/me"
          />
        </>
      }
      calls={stop && stop.id === props.lift && isUp(stop) ? undefined : <Calls />}
      rail={<Rail places={PLACES} more={SHED} current={two ? listBeside(props.place) : props.place} />}
      bar={bar}
      {...(props.work === undefined && !stop
        ? {}
        : {
            work: (
              <>
                {props.work}
                {stop && <StopHere lift={stop} />}
              </>
            ),
          })}
      {...(two ? { detail: matter, detailLabel: props.title } : {})}
    >
      {two ? <Beside place={props.place} /> : matter}
    </Layout>
  );
}
