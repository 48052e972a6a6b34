/** One input of a calculation, asked for as its kind wants: a figure with its unit, a choice, yes or no, rows. */

import type { JSX } from "preact";
import type { components } from "../../wire/schema";
import { Button, Choice, Field, TextField, Tick } from "../parts";

export type AskedFor = components["schemas"]["AskedFor"];
/** What was typed. A figure with a unit keeps both; rows keep a list of such records. */
export type Given = string | boolean | { value: string; unit: string } | Record<string, unknown>[];
export type Inputs = Record<string, Given>;

export function words(name: string, unit: string): string {
  const bare = unit !== "-" && name.endsWith(`_${unit}`) ? name.slice(0, -unit.length - 1) : name;
  return bare.charAt(0).toUpperCase() + bare.slice(1).replaceAll("_", " ");
}

function range(asked: AskedFor): string {
  if (asked.low === null || asked.high === null) return "";
  const unit = asked.units.find((one) => one.id === asked.unit)?.name ?? "";
  return `, ${asked.low} to ${asked.high} ${unit}`.trimEnd();
}

interface Props {
  asked: AskedFor;
  given: Given | undefined;
  wrong: string | undefined;
  onGive: (given: Given | undefined) => void;
}

function Figure({ asked, given, wrong, onGive }: Props): JSX.Element {
  const now = typeof given === "object" && !Array.isArray(given) ? given : { value: "", unit: asked.unit };
  return (
    <Field label={words(asked.name, asked.unit)} help={`${asked.text}${range(asked)}`} wrong={wrong}>
      {({ id, describedBy, invalid }) => (
        <div class="figure-and-unit">
          <input
            id={id}
            class="text-input"
            inputMode="decimal"
            autocomplete="off"
            value={now.value}
            aria-describedby={describedBy}
            aria-invalid={invalid}
            onInput={(e) => onGive({ ...now, value: e.currentTarget.value })}
          />
          <select
            class="text-input"
            aria-label={`Unit of ${words(asked.name, asked.unit)}`}
            value={now.unit}
            onChange={(e) => onGive({ ...now, unit: e.currentTarget.value })}
          >
            {asked.units.map((unit) => (
              <option key={unit.id} value={unit.id}>
                {unit.name}
              </option>
            ))}
          </select>
        </div>
      )}
    </Field>
  );
}

function Rows({ asked, given, wrong, onGive }: Props): JSX.Element {
  const rows = Array.isArray(given) ? given : [{}];
  const change = (index: number, name: string, value: Given | undefined) =>
    onGive(rows.map((row, at) => (at === index ? { ...row, [name]: value } : row)));
  return (
    <fieldset class="stack">
      <legend class="field-label">{words(asked.name, asked.unit)}</legend>
      <p class="field-help">{asked.text}</p>
      {wrong && <p class="field-sentence">{wrong}</p>}
      {rows.map((row, index) => (
        <div key={index} class="card">
          {asked.columns.map((column) => (
            <Asked
              key={column.name}
              asked={column}
              given={row[column.name] as Given | undefined}
              wrong={undefined}
              onGive={(value) => change(index, column.name, value)}
            />
          ))}
          {rows.length > 1 && (
            <Button
              label={`Take row ${index + 1} out`}
              size={48}
              onPress={() => onGive(rows.filter((_, at) => at !== index))}
            />
          )}
        </div>
      ))}
      <Button label="One more row" onPress={() => onGive([...rows, {}])} />
    </fieldset>
  );
}

export function Asked(props: Props): JSX.Element {
  const { asked, given, wrong, onGive } = props;
  const label = words(asked.name, asked.unit);
  const help = `${asked.text}${range(asked)}${asked.optional && asked.default !== null ? ` (else ${asked.default})` : ""}`;
  if (asked.kind === "rows") return <Rows {...props} />;
  if (asked.units.length > 0 && asked.kind !== "numbers") return <Figure {...props} />;
  if (asked.kind === "choice" && asked.choices.length > 0) {
    return (
      <Choice
        legend={label}
        chosen={typeof given === "string" ? given : undefined}
        onChoose={onGive}
        wrong={wrong}
        options={asked.choices.map((choice) => ({ key: choice, word: choice.replaceAll("_", " ") }))}
      />
    );
  }
  if (asked.kind === "yes_no") {
    const now = typeof given === "boolean" ? given : asked.default === "True";
    return <Tick word={label} second={asked.text} ticked={now} onTick={onGive} />;
  }
  const more = asked.kind === "numbers" || asked.kind === "texts" ? " Put ; between them." : "";
  return (
    <TextField
      label={label}
      help={`${help}${more}`}
      wrong={wrong}
      kind={asked.kind === "day" ? "date" : "text"}
      value={typeof given === "string" ? given : ""}
      onType={(value) => onGive(value === "" ? undefined : value)}
    />
  );
}
