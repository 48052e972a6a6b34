/** In which units the answer is wanted, one choice for all its figures of a kind. */

import type { JSX } from "preact";
import { Field } from "../parts";
import type { Told } from "./Answer";
import { UnitChoice } from "./Figure";

type Units = Told["units"];

/** The choices an answer leaves: each kind of unit once, where there is more than one to choose from. */
export function choices(told: Told): readonly { unit: string; units: Units }[] {
  const own = told.units.length > 1 ? [{ unit: told.unit, units: told.units }] : [];
  const all = [...own, ...told.parts.flatMap(choices)];
  return all.filter((one, at) => all.findIndex((other) => other.units[0]?.id === one.units[0]?.id) === at);
}

function nameOf(unit: string, units: Units): string {
  return units.find((one) => one.id === unit)?.name ?? unit;
}

export function AnswerUnits(props: {
  told: Told;
  /** Unit ids wanted, at most one of each kind. */
  wanted: readonly string[];
  onWant: (wanted: readonly string[]) => void;
}): JSX.Element | null {
  const offered = choices(props.told);
  if (offered.length === 0) return null;
  return (
    <div class="two-up">
      {offered.map(({ unit, units }) => {
        const ids = units.map((one) => one.id);
        const chosen = props.wanted.find((one) => ids.includes(one)) ?? unit;
        return (
          <Field
            key={unit}
            label={offered.length === 1 ? "Unit of the answer" : `Instead of ${nameOf(unit, units)}`}
          >
            {({ id }) => (
              <UnitChoice
                of="the answer"
                id={id}
                units={units}
                chosen={chosen}
                onChoose={(to) => props.onWant([...props.wanted.filter((one) => !ids.includes(one)), to])}
              />
            )}
          </Field>
        );
      })}
    </div>
  );
}
