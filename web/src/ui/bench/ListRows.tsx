/** A list of figures or words: one field each, one unit for all, rows to add and to take out. */

import type { JSX } from "preact";
import { Button, Field } from "../parts";
import type { AskedProps } from "./Asked";
import { amountOf, FigureInput, UnitChoice } from "./Figure";
import { type Amount, help, itemsOf } from "./inputs";
import { useNewRow } from "./newRow";

export function ListRows({ asked, given, wrong, onGive }: AskedProps): JSX.Element {
  const { label } = asked;
  const kept = itemsOf(given);
  const measured = asked.units.length > 0;
  const unit = measured ? amountOf(kept[0], asked.unit).unit : "-";
  const make = (value: string): string | Amount => (measured ? { value, unit } : value);
  const items = kept.length > 0 ? kept : [make("")];
  const { box, added } = useNewRow();
  const said = wrong(asked.name);
  const only = asked.units.length === 1 ? asked.units[0] : undefined;
  return (
    <fieldset class={said === undefined ? "stack" : "stack field-wrong"} ref={box}>
      <legend class="field-label">{label}</legend>
      <p class="field-help">{help(asked)}</p>
      {said !== undefined && (
        <p class="field-sentence" role="alert">
          {said}
        </p>
      )}
      {asked.units.length > 1 && (
        <UnitChoice
          of={label}
          units={asked.units}
          chosen={unit}
          onChoose={(chosen) => onGive(items.map((item) => ({ ...amountOf(item, unit), unit: chosen })))}
        />
      )}
      {items.map((item, index) => (
        <div key={index} class="list-row" data-row>
          <Field
            label={`${label} ${index + 1}${only ? `, ${only.name}` : ""}`}
            wrong={wrong(`${asked.name}[${index}]`)}
          >
            {(ids) => {
              const value = typeof item === "string" ? item : item.value;
              const type = (next: string) =>
                onGive(items.map((one, at) => (at === index ? make(next) : one)));
              return measured || asked.kind === "numbers" ? (
                <FigureInput ids={ids} asked={asked} unit={unit} value={value} onType={type} />
              ) : (
                <input
                  id={ids.id}
                  class="text-input"
                  autocomplete="off"
                  value={value}
                  aria-describedby={ids.describedBy}
                  aria-invalid={ids.invalid}
                  onInput={(e) => type(e.currentTarget.value)}
                />
              );
            }}
          </Field>
          {items.length > 1 && (
            <Button
              label="Take out"
              heard={`Take out ${label.toLowerCase()} ${index + 1}`}
              onPress={() => onGive(items.filter((_, at) => at !== index))}
            />
          )}
        </div>
      ))}
      <Button
        label="One more"
        heard={`One more: ${label.toLowerCase()}`}
        onPress={() => {
          added();
          onGive([...items, make("")]);
        }}
      />
    </fieldset>
  );
}
