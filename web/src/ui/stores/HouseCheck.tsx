/** A house check: a weighed mass hung on the level arm of the torque wrench. The service works out what it shows. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import type { RowKinds } from "../../wire/rows";
import { Button, Choice, MainButton, Stub, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import { unitWord } from "../words/units";

type Wrench = RowKinds["torque_wrench"];

/** What the last check by a weight came to, in one sentence. */
export function weighedWords(wrench: Wrench): string | null {
  const checks = [...(wrench.checks ?? [])].sort((a, b) => b.at_ms - a.at_ms);
  const last = checks[0];
  if (!last?.weighed) return null;
  const { applied, reading, deviation_percent, permitted_percent, own_mass } = last.weighed;
  const off = deviation_percent.replace("-", "");
  const side = deviation_percent.startsWith("-") ? "low" : "high";
  return (
    `The weight made ${applied} ${unitWord(wrench.plan.unit)}, the torque wrench ${reading}: ` +
    `${off} % ${side}, ${permitted_percent} % is allowed.` +
    (own_mass ? "" : " Its own weight was not counted.")
  );
}

function wrongNumber(typed: string): string | undefined {
  return typed && !readNumber(typed) ? "Type a number, such as 10 or 10,5." : undefined;
}

export function HouseCheck({ wrench, onDone }: { wrench: Wrench; onDone: () => void }): JSX.Element {
  const us = rows("build").get("build")?.units === "us";
  const [mass, setMass] = useState("");
  const [massUnit, setMassUnit] = useState<"kg" | "lb">(us ? "lb" : "kg");
  const [arm, setArm] = useState("");
  const [armUnit, setArmUnit] = useState<"mm" | "in">(us ? "in" : "mm");
  const [reading, setReading] = useState("");
  const [ownMass, setOwnMass] = useState("");
  const [ownArm, setOwnArm] = useState("");
  const lacks = [
    { typed: mass, word: "the weight" },
    { typed: arm, word: "the arm" },
    { typed: ownMass, word: "its own weight" },
    { typed: ownArm, word: "where it balances" },
    { typed: reading, word: "what it shows" },
  ].find((one) => !readNumber(one.typed));
  return (
    <div class="stack">
      <p>
        Hold the square drive in a vice so that the handle is level. Hang a weighed mass from the handle, feet
        clear of it, and turn the setting until it just clicks; or read what it shows.
      </p>
      <TextField label={`Weight, ${massUnit}`} value={mass} onType={setMass} wrong={wrongNumber(mass)} />
      <Choice
        legend="Weighed in"
        row
        chosen={massUnit}
        onChoose={setMassUnit}
        options={[
          { key: "kg", word: "kg" },
          { key: "lb", word: "lb" },
        ]}
      />
      <TextField
        label={`Arm, square drive to the hook, ${armUnit}`}
        value={arm}
        onType={setArm}
        wrong={wrongNumber(arm)}
      />
      <Choice
        legend="Measured in"
        row
        chosen={armUnit}
        onChoose={setArmUnit}
        options={[
          { key: "mm", word: "mm" },
          { key: "in", word: "in" },
        ]}
      />
      <TextField
        label={`The torque wrench itself, ${massUnit}`}
        help="It hangs on its own arm too: often as much as may be off"
        value={ownMass}
        onType={setOwnMass}
        wrong={wrongNumber(ownMass)}
      />
      <TextField
        label={`Square drive to where it balances, ${armUnit}`}
        help="Lay it over an edge to find the point"
        value={ownArm}
        onType={setOwnArm}
        wrong={wrongNumber(ownArm)}
      />
      <TextField
        label={`It clicks at, or shows, ${unitWord(wrench.plan.unit)}`}
        value={reading}
        onType={setReading}
        wrong={wrongNumber(reading)}
      />
      <p class="t-dim">
        A house check is one point, holds for a month at most, and is named as such in the record. It is no
        calibration.
      </p>
      {pending("wrench.house_check", { wrench: wrench.id }).length > 0 && (
        <Stub word="Asked, on this phone only" />
      )}
      <MainButton
        label="Record this house check"
        blocked={lacks && `${lacks.word} is missing`}
        onPress={() => {
          void dispatch("wrench.house_check", {
            wrench: wrench.id,
            mass: mass.trim(),
            mass_unit: massUnit,
            arm: arm.trim(),
            arm_unit: armUnit,
            reading: reading.trim(),
            own_mass: ownMass.trim(),
            own_arm: ownArm.trim(),
          });
          onDone();
        }}
      />
      <Button label="Leave it" kind="quiet" onPress={onDone} />
    </div>
  );
}
