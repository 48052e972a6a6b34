/** STOP on every screen of everyone in a lift that is called by roll or up; and the screen it brings up everywhere. */

import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { rows } from "../../app/mirror";
import { outbox } from "../../app/outbox";
import { build, me, nameOf, serverNow } from "../../app/session";
import type { Waiting } from "../../local/store";
import { beat } from "../../sync/beat";
import { goOn, sendStop } from "../../sync/stop";
import { soundStop } from "../alarm";
import { useNow } from "../askNow";
import { go } from "../go";
import { Button, RefusalPanel, StopBar, StopScreen } from "../parts";
import { toTheSecond } from "../words/times";
import { callerOf, isLive, type LiftRow, myLift, stopOf } from "./live";

/** What was pressed on this phone, and the STOP already seen: kept across screens, so that going elsewhere hides nothing. */
const pressed = signal<{ lift: string; at_ms: number; sent: boolean } | null>(null);
const seen = signal<string | null>(null);
const keyOf = (lift: LiftRow, at_ms: number): string => `${lift.id}/${at_ms}`;
let sounded: string | null = null;
const begun = new Set<string>(); // STOPs that this page sends, or sent

/** One press, no question: the screen comes up before anything is sent. */
function pressStop(lift: LiftRow): void {
  const here = build.value;
  if (!here) return;
  soundStop();
  const at_ms = serverNow();
  pressed.value = { lift: lift.id, at_ms, sent: false };
  begun.add(sendStop(here.id, lift.id, tried(at_ms)).id);
}

const tried = (at_ms: number) => (sent: boolean) => {
  if (pressed.value?.at_ms === at_ms) pressed.value = { ...pressed.value, sent };
};

/** A page that was killed had pressed it: it stands here again, and goes on being sent every second. */
function takeUp(waiting: readonly Waiting[]): void {
  const here = build.value?.id;
  const kept = waiting.find(
    ({ id, envelope, ...one }) =>
      one.build === here && one.state === "waiting" && envelope.kind === "lift.stop" && !begun.has(id),
  );
  const lift = kept?.envelope.body.lift;
  if (!here || !kept || typeof lift !== "string") return;
  const at_ms = kept.envelope.device_ms;
  begun.add(kept.id);
  pressed.value = { lift, at_ms, sent: false };
  goOn(here, lift, kept.id, at_ms, tried(at_ms));
}

/** The lift that this screen stops: the one I am in, or the one that is looked at (anybody stops it, R19). */
export function liftToStop(shown?: string): LiftRow | undefined {
  const mine = myLift();
  if (isLive(mine)) return mine;
  const looked = shown ? rows("lift").get(shown) : undefined;
  return isLive(looked) ? looked : undefined;
}

export function StopHere({ lift }: { lift: LiftRow }): JSX.Element {
  return <StopBar onStop={() => pressStop(lift)} />;
}

/** Beats while my lift goes on, and shows STOP whoever pressed it. */
export function StopWatch(): JSX.Element | null {
  const lift = myLift();
  const live = isLive(lift) ? lift?.id : undefined;
  const asking = useNow();
  useEffect(() => (build.value && live ? beat(build.value.id) : undefined), [live]);
  useEffect(() => takeUp(outbox.value), [outbox.value]);
  const stop = stopOf(lift);
  const news = lift && stop ? keyOf(lift, stop.at_ms) : null;
  useEffect(() => {
    if (!news || news === sounded) return;
    sounded = news;
    soundStop();
  }, [news]);

  const mine = pressed.value;
  const about = mine ? rows("lift").get(mine.lift) : lift;
  if (!about) return null;
  const stands = stopOf(about);
  const open = mine !== null || (stands !== undefined && seen.value !== keyOf(about, stands.at_ms));
  const caller = callerOf(about);
  const iCall = caller !== undefined && caller === me.value?.person;
  const by = stands ? nameOf(stands.by) : "you";
  // The pressing phone keeps the moment of the press; the service may have heard of it later.
  const at = (by === "you" ? mine?.at_ms : undefined) ?? stands?.at_ms ?? mine?.at_ms ?? serverNow();
  const away = () => {
    pressed.value = null;
    seen.value = stands ? keyOf(about, stands.at_ms) : null;
  };
  const toLift = () => {
    away();
    go(`/lifts/${about.id}`);
  };
  const sent = !mine || mine.sent;
  return (
    <StopScreen
      open={open}
      sentence={`${by === "you" ? "You" : by} stopped the lift at ${toTheSecond(at)}.`}
      next={
        iCall
          ? "Everybody holds still. You say what comes next."
          : `Hold still. Listen to ${caller ? nameOf(caller) : "the caller"}.`
      }
      unsent={sent ? undefined : "Not sent. Shout STOP."}
    >
      {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
      {iCall && about.state === "held" && (
        <Button
          label="Lower it"
          size={72}
          wide
          blocked={asking.busy ? "one moment" : undefined}
          onPress={async () => {
            if (await asking.ask(`/lifts/${about.id}/lower`)) toLift();
          }}
        />
      )}
      {iCall && sent && <Button label="Go on: call the roll again" size={72} wide onPress={toLift} />}
      {!iCall && sent && <Button label="I have seen it" size={72} wide onPress={toLift} />}
    </StopScreen>
  );
}
