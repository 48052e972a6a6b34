/** One input of a calculation, asked for as its kind wants: a figure with its unit, a choice, yes or no, rows. */

import type { JSX } from "preact";
import { Choice, Field, TextField, Tick } from "../parts";
import { amountOf, FigureInput, UnitChoice } from "./Figure";
import { type AskedFor, choiceWord, type Given, help } from "./inputs";
import { ListRows } from "./ListRows";
import { TableRows } from "./TableRows";

/** Choices no longer than that stand side by side. */
const SHORT_WORD = 9;

export interface AskedProps {
  asked: AskedFor;
  given: Given | undefined;
  /** The sentence for a field as the service names it: `angle_deg`, `pulleys[1].x_mm`. */
  wrong: (field: string) => string | undefined;
  onGive: (given: Given) => void;
}

export function Asked(props: AskedProps): JSX.Element {
  const { asked, given, onGive } = props;
  const { label } = asked;
  const wrong = props.wrong(asked.name);
  if (asked.kind === "rows") return <TableRows {...props} />;
  if (asked.kind === "numbers" || asked.kind === "texts") return <ListRows {...props} />;
  if (asked.units.length > 0) {
    const now = amountOf(given, asked.unit);
    return (
      <Field label={label} help={help(asked)} wrong={wrong}>
        {(ids) => (
          <div class="figure-and-unit">
            <FigureInput
              ids={ids}
              asked={asked}
              unit={now.unit}
              value={now.value}
              onType={(value) => onGive({ ...now, value })}
            />
            <UnitChoice
              of={label}
              units={asked.units}
              chosen={now.unit}
              onChoose={(unit) => onGive({ ...now, unit })}
            />
          </div>
        )}
      </Field>
    );
  }
  if (asked.kind === "choice") {
    return (
      <Choice
        legend={label}
        help={asked.text}
        row={asked.choices.every((choice) => choice.length <= SHORT_WORD)}
        chosen={typeof given === "string" ? given : (asked.default ?? undefined)}
        onChoose={onGive}
        wrong={wrong}
        options={asked.choices.map((choice) => ({ key: choice, word: choiceWord(choice) }))}
      />
    );
  }
  if (asked.kind === "yes_no") {
    const now = typeof given === "boolean" ? given : asked.default === "True";
    return <Tick word={label} second={asked.text} ticked={now} onTick={onGive} />;
  }
  const now = typeof given === "string" ? given : "";
  if (asked.kind === "whole" || asked.kind === "number" || asked.kind === "exact") {
    return (
      <Field label={label} help={help(asked)} wrong={wrong}>
        {(ids) => <FigureInput ids={ids} asked={asked} value={now} onType={onGive} />}
      </Field>
    );
  }
  return (
    <TextField
      label={label}
      help={help(asked)}
      wrong={wrong}
      kind={asked.kind === "day" ? "date" : "text"}
      value={now}
      onType={onGive}
    />
  );
}
