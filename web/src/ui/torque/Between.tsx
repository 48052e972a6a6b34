/** What stands between torque wrench and fastener: an extension off the square drive, a locking nut that drags. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Problem } from "../../wire/core";
import { Button, NoticeLine, RefusalPanel, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import { unitWord } from "../words/units";
import type { Setup } from "./seen";

export function setupWords(setup: Setup): string {
  const said: string[] = [];
  if (setup.extension_mm.trim())
    said.push(`extension ${setup.extension_mm} mm at ${setup.extension_angle_deg.trim() || "0"}°`);
  if (setup.drag.trim()) said.push(`prevailing torque ${setup.drag} ${unitWord(setup.drag_unit)} added`);
  return `With ${said.join(", ")}.`;
}

function wrong(typed: string): string | undefined {
  return typed && (!readNumber(typed) || typed.includes("/"))
    ? "Type a number, such as 60 or 0,8."
    : undefined;
}

export function Between(props: {
  before: Setup | null;
  unit: string;
  /** Asked for, and not worked out yet; or why it can't be. */
  waits: boolean;
  problem: Problem | null;
  onSetup: (setup: Setup | null) => void;
}): JSX.Element {
  const { before, unit } = props;
  const [length, setLength] = useState(before?.extension_mm ?? "");
  const [angle, setAngle] = useState(before?.extension_angle_deg ?? "");
  const [drag, setDrag] = useState(before?.drag_unit === unit ? before.drag : "");
  const nothing = !length.trim() && !drag.trim();
  const faulty = wrong(length) ?? wrong(angle) ?? wrong(drag);
  return (
    <details class="fold" open={before !== null}>
      <summary>Extension, or a locking nut that drags</summary>
      <div class="stack">
        <p class="t-dim">
          A bar in line with the socket changes nothing. A foot or an adapter off the square drive does: the
          setting is worked out again.
        </p>
        <TextField
          label="From square drive to fastener, mm"
          value={length}
          onType={setLength}
          wrong={wrong(length)}
        />
        <TextField
          label="Angle to the handle, degrees"
          help="0 straight on, 90 square to it, 180 back over it"
          value={angle}
          onType={setAngle}
          wrong={wrong(angle)}
        />
        <TextField
          label={`Prevailing torque, ${unitWord(unit)}`}
          help="What it takes to turn the nut just before it touches. It is added"
          value={drag}
          onType={setDrag}
          wrong={wrong(drag)}
        />
        {props.problem && <RefusalPanel sentence={props.problem.detail} remedy={props.problem.way_on} />}
        {props.waits && !props.problem && (
          <NoticeLine>The setting is being worked out. This needs the connection once.</NoticeLine>
        )}
        <div class="row-of-buttons">
          <Button
            label="Work out the setting"
            blocked={faulty ? "mend the figure" : nothing ? "nothing is typed" : undefined}
            onPress={() =>
              props.onSetup({ extension_mm: length, extension_angle_deg: angle, drag, drag_unit: unit })
            }
          />
          {before && (
            <Button
              label="Nothing between"
              onPress={() => {
                setLength("");
                setAngle("");
                setDrag("");
                props.onSetup(null);
              }}
            />
          )}
        </div>
      </div>
    </details>
  );
}
