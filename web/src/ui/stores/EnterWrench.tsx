/** Enter a torque wrench into the tool store: its scale, how it shows, its certificate. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { Button, Choice, MainButton, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import { unitWord } from "../words/units";

const UNITS = ["n_m", "lbf_ft", "lbf_in", "kgf_m"] as const;
const SHOWS = [
  { key: "click", word: "It clicks" },
  { key: "dial", word: "A dial" },
  { key: "digital", word: "Figures" },
] as const;

/** The next free number of the tool store: W1, W2 … */
export function nextWrench(taken: Iterable<string>): string {
  const used = new Set(taken);
  let n = 1;
  while (used.has(`W${n}`)) n += 1;
  return `W${n}`;
}

function point(typed: string): string {
  return typed.trim().replace(",", ".");
}

export function EnterWrench({ onDone }: { onDone: () => void }): JSX.Element {
  const [name, setName] = useState("");
  const [unit, setUnit] = useState<(typeof UNITS)[number]>("n_m");
  const [lowest, setLowest] = useState("");
  const [highest, setHighest] = useState("");
  const [step, setStep] = useState("");
  const [shows, setShows] = useState<"click" | "dial" | "digital">("click");
  const [arm, setArm] = useState("");
  const [checkedOn, setCheckedOn] = useState("");
  const number = (typed: string) => readNumber(typed) && !typed.includes("/");
  const wrong = (typed: string) =>
    typed && !number(typed) ? "Type a number, such as 40 or 0,5." : undefined;
  const lacks = !name.trim()
    ? "its name is missing"
    : !number(lowest) || !number(highest)
      ? "its range is missing"
      : Number(point(lowest)) >= Number(point(highest))
        ? "the range ends before it begins"
        : !number(step)
          ? "the marks are missing"
          : wrong(arm)
            ? "mend the arm"
            : undefined;
  return (
    <div class="stack">
      <TextField
        label="What is it called?"
        help="As the crew says: half inch, the long one"
        value={name}
        onType={setName}
        maxLength={60}
      />
      <Choice
        legend="Its scale"
        row
        chosen={unit}
        onChoose={setUnit}
        options={UNITS.map((key) => ({ key, word: unitWord(key) }))}
      />
      <TextField
        label={`Lowest mark, ${unitWord(unit)}`}
        value={lowest}
        onType={setLowest}
        wrong={wrong(lowest)}
      />
      <TextField
        label={`Highest mark, ${unitWord(unit)}`}
        value={highest}
        onType={setHighest}
        wrong={wrong(highest)}
      />
      <TextField
        label={`From one mark to the next, ${unitWord(unit)}`}
        value={step}
        onType={setStep}
        wrong={wrong(step)}
      />
      <Choice legend="How it shows" row chosen={shows} onChoose={setShows} options={SHOWS} />
      <TextField
        label="Square drive to the middle of the grip, mm"
        help="Only for extensions; leave it empty if you use none"
        value={arm}
        onType={setArm}
        wrong={wrong(arm)}
      />
      <TextField
        label="Day of its certificate"
        help="Holds twelve months. Without one: a house check afterwards"
        kind="date"
        value={checkedOn}
        onType={setCheckedOn}
      />
      <MainButton
        label="Enter it"
        blocked={lacks}
        onPress={() => {
          void dispatch("wrench.enter", {
            wrench: nextWrench(rows("torque_wrench").keys()),
            name: name.trim(),
            plan: {
              unit,
              lowest: point(lowest),
              highest: point(highest),
              step: point(step),
              shows,
              ...(arm.trim() ? { arm_mm: point(arm) } : {}),
              ...(checkedOn ? { checked_on: checkedOn } : {}),
            },
          });
          onDone();
        }}
      />
      <Button label="Leave it" kind="quiet" onPress={onDone} />
    </div>
  );
}
