/** A figure with the unit it is in; a unit is chosen, never guessed. */

import type { JSX } from "preact";
import type { Amount, AskedFor } from "./inputs";

export interface FieldIds {
  id: string;
  describedBy: string | undefined;
  invalid: boolean;
}

/** A phone's decimal keys have neither minus nor stroke: below zero and for 12 7/16 in all keys are shown. */
function keysFor(asked: AskedFor, unit: string): "decimal" | "text" {
  return Number(asked.low) < 0 || unit === "in" ? "text" : "decimal";
}

export function FigureInput(props: {
  ids: FieldIds;
  asked: AskedFor;
  unit?: string;
  value: string;
  onType: (value: string) => void;
}): JSX.Element {
  const { ids } = props;
  return (
    <input
      id={ids.id}
      class="text-input"
      inputMode={keysFor(props.asked, props.unit ?? props.asked.unit)}
      autocomplete="off"
      value={props.value}
      aria-describedby={ids.describedBy}
      aria-invalid={ids.invalid}
      onInput={(e) => props.onType(e.currentTarget.value)}
    />
  );
}

export function UnitChoice(props: {
  of: string;
  /** With a label of its own on screen. */
  id?: string;
  units: AskedFor["units"];
  chosen: string;
  onChoose: (unit: string) => void;
}): JSX.Element {
  const [only, other] = props.units;
  if (only && !other) return <span class="unit-only">{only.name}</span>;
  return (
    <select
      class="text-input"
      id={props.id}
      aria-label={props.id === undefined ? `Unit of ${props.of}` : undefined}
      value={props.chosen}
      onChange={(e) => props.onChoose(e.currentTarget.value)}
    >
      {props.units.map((unit) => (
        <option key={unit.id} value={unit.id}>
          {unit.name}
        </option>
      ))}
    </select>
  );
}

export function amountOf(given: unknown, unit: string): Amount {
  return typeof given === "object" && given !== null && !Array.isArray(given)
    ? (given as Amount)
    : { value: "", unit };
}
