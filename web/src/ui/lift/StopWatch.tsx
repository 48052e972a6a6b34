/** STOP on every screen of those who are in a lift: the bar, the screen over everything, and the beat (R19). */

import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { rows } from "../../app/mirror";
import { build, me, nameOf } from "../../app/session";
import { startBeat } from "../../sync/beat";
import { sendStop } from "../../sync/stop";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import { go } from "../go";
import { Button, RefusalPanel, StopBar, StopScreen } from "../parts";
import { toTheSecond } from "../words/times";

type LiftRow = components["schemas"]["Lift"];

/** What this phone pressed: shown before any answer comes. */
const pressed = signal<{ lift: string; at_ms: number; sent: boolean | null } | null>(null);
/** Which HELD the person has already left for the lift's own screen. */
const left = signal<string | null>(null);

export function stopLift(lift: string): void {
  const here = build.value;
  if (!here || pressed.value?.lift === lift) return;
  pressed.value = { lift, at_ms: Date.now(), sent: null };
  navigator.vibrate?.([800, 200, 800, 200, 800]);
  sendStop(here.id, lift, (sent) => {
    if (pressed.value?.lift === lift) pressed.value = { ...pressed.value, sent };
  });
}

export function callerOf(lift: LiftRow): string | undefined {
  const place = lift.plan.caller_from ?? "caller";
  return lift.places?.[place] ?? lift.places?.caller;
}

export function StopWatch(): JSX.Element | null {
  const asking = useNow();
  const person = me.value?.person ?? "";
  const here = build.value?.id;
  const lift = [...rows("lift").values()].find(
    (one) =>
      ["in_place", "lifting", "held"].includes(one.state) && Object.values(one.places ?? {}).includes(person),
  );
  const id = lift?.id;
  const held = lift?.state === "held" ? lift.held : undefined;
  const heldKey = held ? `${id}:${held.at_ms}` : null;
  useEffect(() => (here && id ? startBeat(here) : undefined), [here, id]);
  useEffect(() => {
    if (heldKey) navigator.vibrate?.([800, 200, 800, 200, 800]);
  }, [heldKey]);
  useEffect(() => {
    // The service has it and the lift is no longer going: the press is answered.
    if (pressed.value?.sent && lift?.state !== "lifting" && lift?.state !== "held") pressed.value = null;
  }, [lift?.state, pressed.value?.sent]);

  const mine = pressed.value;
  const about = mine ? rows("lift").get(mine.lift) : lift;
  const open = mine !== null || (heldKey !== null && heldKey !== left.value);
  if (!lift && !mine) return null;
  const by = held?.by ?? person;
  const name = nameOf(by);
  const caller = about ? callerOf(about) : undefined;
  const iCall = caller === person;
  const leave = () => {
    left.value = heldKey;
    pressed.value = null;
    if (about) go(`/lifts/${about.id}`);
  };
  return (
    <>
      {lift && !open && lift.state !== "held" && <StopBar onStop={() => stopLift(lift.id)} />}
      <StopScreen
        open={open}
        sentence={`${name === "you" ? "You" : name} stopped the lift at ${toTheSecond(held?.at_ms ?? mine?.at_ms ?? 0)}.`}
        next={`Hold still. ${iCall ? "They listen to you." : `Listen to ${caller ? nameOf(caller) : "the caller"}.`}`}
        unsent={mine && mine.sent !== true ? "Not sent. Shout STOP." : undefined}
      >
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        {iCall && about && held && (
          <>
            <Button
              label="Lower it"
              size={96}
              wide
              blocked={asking.busy ? "one moment" : undefined}
              onPress={() => void asking.ask(`/lifts/${about.id}/lower`).then((done) => done && leave())}
            />
            <Button label="Go on: call the roll again" size={72} wide onPress={leave} />
          </>
        )}
        {!iCall && heldKey && mine?.sent !== false && <Button label="To the lift" size={64} wide onPress={leave} />}
      </StopScreen>
    </>
  );
}
