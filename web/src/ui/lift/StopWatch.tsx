/** STOP on every screen of everyone in a lift that is called by roll or up; and the screen it brings up everywhere. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
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
const LIVE: readonly string[] = ["in_place", "lifting", "held"];

/** The lift I am in that is about to go, up, or held. */
export function myLiveLift(): Lift | undefined {
  const person = me.value?.person;
  return [...rows("lift").values()].find(
    (lift) => LIVE.includes(lift.state) && person && Object.values(lift.places ?? {}).includes(person),
  );
}

export function StopWatch(): JSX.Element | null {
  const lift = myLiveLift();
  const [pressed, setPressed] = useState<{ lift: string; at_ms: number; sent: boolean } | null>(null);
  const [seen, setSeen] = useState<number | null>(null);
  const asking = useNow();
  const id = lift?.id;
  useEffect(() => (build.value && id ? beat(build.value.id) : undefined), [id]);
  const held = lift?.state === "held" ? lift.held : undefined;
  const heldAt = held?.at_ms;
  useEffect(() => {
    if (heldAt) soundStop();
  }, [heldAt]);

  if (!lift && !pressed) return null;
  const press = () => {
    const here = build.value;
    if (!here || !lift) return;
    soundStop();
    setPressed({ lift: lift.id, at_ms: Date.now(), sent: false });
    sendStop(here.id, lift.id, (sent) => setPressed((now) => (now ? { ...now, sent } : now)));
  };
  const person = me.value?.person;
  const caller = lift?.places?.caller;
  const iCall = caller === person;
  const open = (pressed !== null && pressed.lift === (lift?.id ?? pressed.lift)) || (held !== undefined && held !== null && seen !== held.at_ms);
  const by = held ? nameOf(held.by) : "you";
  const at = held?.at_ms ?? pressed?.at_ms ?? Date.now();
  const away = () => {
    setPressed(null);
    setSeen(held?.at_ms ?? null);
  };
  return (
    <>
      {lift && lift.state !== "held" && !pressed && <StopBar onStop={press} />}
      <StopScreen
        open={open}
        sentence={`${by === "you" ? "You" : by} stopped the lift at ${toTheSecond(at)}.`}
        next={`Hold still. Listen to ${iCall ? "everybody, then speak" : nameOf(caller)}.`}
        unsent={pressed && !pressed.sent ? "Not sent. Shout STOP." : undefined}
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
        {(!pressed || pressed.sent) && !(iCall && lift?.state === "held") && (
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
