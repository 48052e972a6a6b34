/** A pass that turns: every bolt on by an angle, from where the torque left it. No torque wrench measures it. */

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch } from "../../app/outbox";
import type { components } from "../../wire/schema";
import { Button, Figure, Keypad, LiveLine, MainButton, SlipGuard, Stub } from "../parts";
import { readNumber } from "../words/numbers";
import { InReach } from "./InReach";
import { PassPattern } from "./PassPattern";
import type { PassOut, Seen, TorqueView } from "./seen";
import { type Slip, slipOf } from "./slip";

export function Turning(props: {
  view: TorqueView;
  seen: Seen;
  asks: PassOut;
  turn: components["schemas"]["TurnOut"];
  task: string | null;
  helped: string[];
  frame: (main: ComponentChildren, matter: ComponentChildren) => JSX.Element;
}): JSX.Element {
  const { view, seen, asks, turn, task } = props;
  const [typing, setTyping] = useState(false);
  const [typed, setTyped] = useState("");
  const [slip, setSlip] = useState<Slip | null>(null);
  const [said, setSaid] = useState("");
  const [picked, setPicked] = useState<number | null>(null);
  const next = picked !== null && seen.open.includes(picked) ? picked : seen.open[0];
  const all = asks.pass_no < view.passes.length && !typing && seen.open.length > 1;
  const which = `Pass ${asks.pass_no} of ${view.passes.length}`;
  const first = turn.turned_deg === turn.angle_deg;
  const ok = readNumber(typed) && !typed.includes("/");
  const value = typed.trim();

  function write(bolts: number[], angle_deg: string): void {
    void dispatch("torque.read", {
      group: view.group,
      pass_no: asks.pass_no,
      bolts: bolts.map((n) => ({ n, angle_deg })),
      helped: props.helped,
      ...(task ? { task } : {}),
    });
    setTyped("");
    setTyping(false);
    setSlip(null);
    setPicked(null);
    setSaid(bolts.map((n) => `Bolt ${n}: turned ${angle_deg}°.`).join(" "));
  }

  function tryTyped(): void {
    if (next === undefined || !ok) return;
    const trouble = slipOf(value, { ...turn, target: turn.angle_deg }, "deg");
    if (trouble) setSlip(trouble);
    else write([next], value);
  }

  const main = slip ? null : typing ? (
    <>
      <MainButton
        size={96}
        label={ok ? `Write ${value}°, bolt ${next}` : `Write the angle, bolt ${next}`}
        blocked={ok ? undefined : "type it first"}
        onPress={tryTyped}
      />
      <Button label={`It was ${turn.angle_deg}°`} size={64} onPress={() => setTyping(false)} />
    </>
  ) : (
    <>
      <MainButton
        size={96}
        label={
          all
            ? `Turned ${turn.angle_deg}°, all ${seen.open.length}`
            : `Turned ${turn.angle_deg}°, bolt ${next}`
        }
        onPress={() => next !== undefined && write(all ? seen.open : [next], turn.angle_deg)}
      />
      <Button label="Type the angle" size={64} onPress={() => setTyping(true)} />
    </>
  );

  const entry = slip ? (
    next !== undefined && (
      <SlipGuard
        how={slip.how}
        sentence={slip.sentence}
        asRead={`${value}°`}
        onWrite={() => write([next], value)}
        onTypeAgain={() => {
          setSlip(null);
          setTyped("");
        }}
      />
    )
  ) : typing ? (
    <InReach bolt={next}>
      <Keypad
        label={`Angle of bolt ${next}`}
        value={typed}
        onType={setTyped}
        onEnter={tryTyped}
        unit="degrees"
        unitHeard="degrees"
        wrong={typed && !readNumber(typed) ? "Type a number, such as 90 or 87,5." : undefined}
      />
    </InReach>
  ) : null;

  return props.frame(
    main,
    <div class="stack">
      <Figure
        value={turn.angle_deg}
        unit="degrees"
        unitHeard="degrees on"
        limits={`${turn.low} to ${turn.high}`}
        holdsFor={`${which} · turn on from where it stands, with an angle gauge`}
      />
      <p>
        {first
          ? "First draw a line across each head and the part: it shows the turn, and which bolts had it (common practice)."
          : `The lines drawn before the first turn stand ${turn.turned_deg}° on after this one (common practice).`}
      </p>
      <div class="stub-slot">{seen.unsent > 0 && <Stub word={`${seen.unsent} on this phone only`} />}</div>
      <PassPattern
        view={view}
        seen={seen}
        next={next}
        all={all}
        pass={`${which}: turn ${turn.angle_deg}°`}
        onPick={setPicked}
        typing={entry}
      />
      <LiveLine words={said} />
    </div>,
  );
}
