/** STOP on every screen of everyone in a lift that is called by roll or up; and the screen it brings up everywhere. */

import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { rows } from "../../app/mirror";
import { build, me, nameOf } from "../../app/session";
import { beat } from "../../sync/beat";
import { sendStop } from "../../sync/stop";
import type { RowKinds } from "../../wire/rows";
import { soundStop } from "../alarm";
import { useNow } from "../askNow";
import { go } from "../go";
import { Button, RefusalPanel, StopBar, StopScreen } from "../parts";
import { toTheSecond } from "../words/times";

type Lift = RowKinds["lift"];

/** What was pressed on this phone, and the HELD already seen: kept across screens, so that going elsewhere hides nothing. */
const pressed = signal<{ lift: string; at_ms: number; sent: boolean } | null>(null);
const seen = signal<number | null>(null);
const LIVE: readonly string[] = ["in_place", "lifting", "held"];

/** The lift I am in that is about to go, up, or held. */
export function myLiveLift(): Lift | undefined {
  const person = me.value?.person;
  return [...rows("lift").values()].find(
    (lift) => LIVE.includes(lift.state) && person && Object.values(lift.places ?? {}).includes(person),
  );
}

/** Who calls: the caller's place, or without one of its own the first lifter's, else the first guide's. */
function callerOf(lift: Lift): string | undefined {
  const first = lift.plan.supports.find((one) => one.kind === "lifter")?.id ?? "guide-1";
  return lift.places?.[lift.plan.caller ? "caller" : first];
}

export function StopWatch(): JSX.Element | null {
  const lift = myLiveLift();
  const asking = useNow();
  const id = lift?.id;
  useEffect(() => (build.value && id ? beat(build.value.id) : undefined), [id]);
  const held = lift?.state === "held" ? lift.held : undefined;
  const heldAt = held?.at_ms;
  useEffect(() => {
    if (heldAt) soundStop();
  }, [heldAt]);

  const mine = pressed.value;
  if (!lift && !mine) return null;
  const press = () => {
    const here = build.value;
    if (!here || !lift) return;
    soundStop();
    const at_ms = Date.now();
    pressed.value = { lift: lift.id, at_ms, sent: false };
    sendStop(here.id, lift.id, (sent) => {
      if (pressed.value?.at_ms === at_ms) pressed.value = { ...pressed.value, sent };
    });
  };
  const person = me.value?.person;
  const about = mine ? rows("lift").get(mine.lift) : lift;
  const caller = about ? callerOf(about) : undefined;
  const iCall = caller === person;
  const open = mine !== null || (held !== undefined && held !== null && seen.value !== held.at_ms);
  const by = held ? nameOf(held.by) : "you";
  const at = held?.at_ms ?? mine?.at_ms ?? Date.now();
  const away = () => {
    pressed.value = null;
    seen.value = held?.at_ms ?? null;
  };
  return (
    <>
      {lift && (lift.state !== "held" || lift.lowering) && !open && <StopBar onStop={press} />}
      <StopScreen
        open={open}
        sentence={`${by === "you" ? "You" : by} stopped the lift at ${toTheSecond(at)}.`}
        next={`Hold still. Listen to ${iCall ? "everybody, then speak" : nameOf(caller)}.`}
        unsent={mine && !mine.sent ? "Not sent. Shout STOP." : undefined}
      >
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        {iCall && lift?.state === "held" && (
          <>
            <Button
              label="Lower it"
              size={72}
              wide
              onPress={async () => {
                if (await asking.ask(`/lifts/${lift.id}/lower`)) away();
              }}
            />
            <Button
              label="Go on: call the roll again"
              size={72}
              wide
              onPress={() => {
                away();
                go(`/lifts/${lift.id}`);
              }}
            />
          </>
        )}
        {(!mine || mine.sent) && !(iCall && lift?.state === "held") && (
          <Button
            label="I have seen it"
            size={72}
            wide
            onPress={() => {
              away();
              if (lift) go(`/lifts/${lift.id}`);
            }}
          />
        )}
      </StopScreen>
    </>
  );
}
