/** Passes and bolts: the next one lit, one press a pass for early passes, one press a bolt for a critical final pass. */

import type { ComponentChildren, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { dispatch } from "../../app/outbox";
import { toTop } from "../go";
import { Button, Figure, Keypad, LiveLine, MainButton, NoticeLine, SlipGuard, Stub } from "../parts";
import { readNumber } from "../words/numbers";
import { unitHeard, unitWord } from "../words/units";
import { setupWords } from "./Between";
import { InReach } from "./InReach";
import { PassPattern } from "./PassPattern";
import {
  type Pass,
  rounded,
  type Seen,
  type Setting,
  setupFields,
  setValue,
  type TorqueView,
  type WrenchFor,
  wholeTorque,
} from "./seen";
import { type Slip, slipOf } from "./slip";
import { offScaleWords } from "./wrench";

export interface WorkingProps {
  view: TorqueView;
  seen: Seen;
  setting: Setting;
  /** The torque wrench that is set, and its figures for the pass that is on. */
  wrench: WrenchFor;
  pass: Pass;
  task: string | null;
  helped: string[];
  /** Back to the setting card. */
  onChange: () => void;
  frame: (main: ComponentChildren, matter: ComponentChildren) => JSX.Element;
}

export function Working(props: WorkingProps): JSX.Element {
  const { view, seen, setting, wrench, pass, task, helped, frame } = props;
  const passNo = pass.pass_no;
  const [typing, setTyping] = useState(false);
  const [typed, setTyped] = useState("");
  const [slip, setSlip] = useState<Slip | null>(null);
  const [said, setSaid] = useState("");
  const [picked, setPicked] = useState<number | null>(null);
  const unit = unitWord(wrench.unit);
  const shown = rounded(pass);
  const whole = wholeTorque(view)?.pass_no ?? view.passes.length;
  const set = setValue(wrench, passNo, whole, setting.own);
  // Only in a build from before turns had passes of their own: one press says both.
  const turn = view.passes[passNo - 1]?.turn?.angle_deg;
  const and = turn ? `, turned ${turn}°` : "";
  const early = passNo < view.passes.length;
  const off = early ? offScaleWords(pass, wrench) : null;
  const next = picked !== null && seen.open.includes(picked) ? picked : seen.open[0];
  const shows = wrench.shows === "click" && !typing;
  useEffect(toTop, []); // the setting card was longer, and pressed at its end
  const all = early && shows && seen.open.length > 1;

  function write(bolts: { n: number; reading: string | null }[]): void {
    void dispatch("torque.read", {
      group: view.group,
      pass_no: passNo,
      wrench: setting.wrench,
      set_value: set,
      unit: wrench.unit,
      bolts: turn ? bolts.map((one) => ({ ...one, angle_deg: turn })) : bolts,
      helped,
      ...setupFields(setting.setup ?? null),
      ...(task ? { task } : {}),
      ...(view.as_found_wanted && setting.faces ? { faces: setting.faces, threads: setting.threads } : {}),
    });
    setTyped("");
    setSlip(null);
    setPicked(null);
    const words = bolts
      .map((one) => `Bolt ${one.n}: ${one.reading ?? `clicked at ${set}`} ${unit}.`)
      .join(" ");
    setSaid(words);
  }

  function tryTyped(): void {
    if (next === undefined || !readNumber(typed) || typed.includes("/")) return;
    const value = typed.trim();
    const trouble = slipOf(value, pass, wrench.unit);
    if (trouble) setSlip(trouble);
    else write([{ n: next, reading: value }]);
  }

  const main = slip ? null : all ? (
    <>
      <MainButton
        size={96}
        label={`Clicked at ${set} ${unit}${and}, all ${seen.open.length}`}
        onPress={() => write(seen.open.map((n) => ({ n, reading: null })))}
      />
      <Button label="Type a reading" size={64} onPress={() => setTyping(true)} />
    </>
  ) : shows ? (
    <>
      <MainButton
        size={96}
        label={`Clicked at ${set} ${unit}${and}`}
        onPress={() => next !== undefined && write([{ n: next, reading: null }])}
      />
      <Button label="Type a reading" size={64} onPress={() => setTyping(true)} />
    </>
  ) : (
    <>
      <MainButton
        size={96}
        label={
          typed.trim() ? `Write ${typed.trim()} ${unit}, bolt ${next}` : `Write the reading, bolt ${next}`
        }
        blocked={readNumber(typed) && !typed.includes("/") ? undefined : "type it first"}
        onPress={tryTyped}
      />
      {wrench.shows === "click" && <Button label="It clicked" size={64} onPress={() => setTyping(false)} />}
    </>
  );

  const entry = slip ? (
    next !== undefined && (
      <SlipGuard
        how={slip.how}
        sentence={slip.sentence}
        asRead={`${typed.trim()} ${unit}`}
        onWrite={() => write([{ n: next, reading: typed.trim() }])}
        onTypeAgain={() => {
          setSlip(null);
          setTyped("");
        }}
        otherUnit={
          slip.otherUnit
            ? {
                label: `It reads ${unitWord(slip.otherUnit)}: change torque wrench`,
                onPress: props.onChange,
              }
            : undefined
        }
      />
    )
  ) : shows ? null : (
    <InReach bolt={next}>
      <Keypad
        label={`Reading of bolt ${next}`}
        value={typed}
        onType={setTyped}
        onEnter={tryTyped}
        unit={unit}
        unitHeard={unitHeard(wrench.unit)}
        wrong={typed && !readNumber(typed) ? "Type a number, such as 92 or 92,5." : undefined}
      />
    </InReach>
  );
  const stub = (
    <div class="stub-slot">{seen.unsent > 0 && <Stub word={`${seen.unsent} on this phone only`} />}</div>
  );

  return frame(
    main,
    <div class="stack">
      <Figure
        value={set}
        unit={unit}
        unitHeard={unitHeard(wrench.unit)}
        limits={passNo < whole ? `about ${shown.target}` : `${shown.low} to ${shown.high}`}
        holdsFor={`Pass ${passNo} of ${view.passes.length} · ${view.spec.lubrication} · torque wrench ${wrench.wrench}`}
      />
      {setting.setup && <p class="t-dim">{setupWords(setting.setup)}</p>}
      {off && <NoticeLine>{off}</NoticeLine>}
      {!entry && stub}
      <PassPattern
        view={view}
        seen={seen}
        next={next}
        all={all}
        pass={`Pass ${passNo} of ${view.passes.length}`}
        onPick={setPicked}
        typing={entry}
      />
      {entry && stub}
      <LiveLine words={said} />
    </div>,
  );
}
