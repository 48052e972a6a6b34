/** A table: a card for each row, the columns explained once, one unit for all columns measured alike. */

import type { JSX } from "preact";
import { Button, Field, TextField, Tick } from "../parts";
import type { AskedProps } from "./Asked";
import { amountOf, FigureInput, UnitChoice } from "./Figure";
import { type AskedFor, help, type Row, rowsOf, type Single } from "./inputs";
import { useNewRow } from "./newRow";

export function TableRows({ asked, given, wrong, onGive }: AskedProps): JSX.Element {
  const rows = rowsOf(given);
  const { label } = asked;
  const { box, added } = useNewRow();
  const change = (index: number, name: string, value: Single) =>
    onGive(rows.map((row, at) => (at === index ? { ...row, [name]: value } : row)));
  const measured = [...new Set(asked.columns.filter((one) => one.units.length > 0).map((one) => one.unit))];
  const alike = (unit: string) => asked.columns.filter((one) => one.unit === unit);
  const unitNow = (column: AskedFor) =>
    alike(column.unit)
      .flatMap((one) => rows.map((row) => row[one.name]))
      .map((cell) => amountOf(cell, "").unit)
      .find((unit) => unit !== "") ?? column.unit;
  const said = wrong(asked.name);
  return (
    <fieldset class={said === undefined ? "stack" : "stack field-wrong"} ref={box}>
      <legend class="field-label">{label}</legend>
      {asked.text && <p class="field-help">{asked.text}</p>}
      <ul class="column-help">
        {asked.columns.map((column) => (
          <li key={column.name}>
            <b>{column.label}</b>: {help(column)}
          </li>
        ))}
      </ul>
      {said !== undefined && (
        <p class="field-sentence" role="alert">
          {said}
        </p>
      )}
      {measured.map((unit) => {
        const columns = alike(unit);
        const [first] = columns;
        if (!first) return null;
        const names = columns.map((one) => one.label.toLowerCase()).join(", ");
        return (
          <Field key={unit} label={`Unit of ${names}`}>
            {({ id }) => (
              <UnitChoice
                id={id}
                of={names}
                units={first.units}
                chosen={unitNow(first)}
                onChoose={(chosen) =>
                  onGive(
                    rows.map((row): Row => {
                      const cells = columns.map((one) => [
                        one.name,
                        { ...amountOf(row[one.name], chosen), unit: chosen },
                      ]);
                      return { ...row, ...Object.fromEntries(cells) };
                    }),
                  )
                }
              />
            )}
          </Field>
        );
      })}
      {rows.map((row, index) => {
        const place = `${asked.name}[${index}]`;
        const rowWrong = wrong(place);
        return (
          <fieldset
            key={index}
            class={`card table-row${rowWrong === undefined ? "" : " field-wrong"}`}
            data-row
          >
            <legend class="heard">
              {label}, row {index + 1}
            </legend>
            <div class="table-row-head">
              <b aria-hidden="true">{index + 1}</b>
              {rows.length > 1 && (
                <Button
                  label="Take out"
                  heard={`Take out row ${index + 1}`}
                  size={48}
                  kind="quiet"
                  onPress={() => onGive(rows.filter((_, at) => at !== index))}
                />
              )}
            </div>
            {rowWrong !== undefined && (
              <p class="field-sentence" role="alert">
                {rowWrong}
              </p>
            )}
            {asked.columns.map((column) => (
              <Cell
                key={column.name}
                column={column}
                unit={unitNow(column)}
                given={row[column.name]}
                wrong={wrong(`${place}.${column.name}`)}
                onGive={(value) => change(index, column.name, value)}
              />
            ))}
          </fieldset>
        );
      })}
      <Button
        label="One more row"
        heard={`One more row of ${label.toLowerCase()}`}
        onPress={() => {
          added();
          onGive([...rows, {}]);
        }}
      />
    </fieldset>
  );
}

interface CellProps {
  column: AskedFor;
  unit: string;
  given: Single | undefined;
  wrong: string | undefined;
  onGive: (given: Single) => void;
}

function Cell({ column, unit, given, wrong, onGive }: CellProps): JSX.Element {
  const { label } = column;
  if (column.kind === "yes_no") {
    const ticked = typeof given === "boolean" ? given : column.default === "True";
    return <Tick word={label} ticked={ticked} onTick={onGive} />;
  }
  if (column.units.length > 0) {
    const name = column.units.find((one) => one.id === unit)?.name ?? unit;
    return (
      <Field label={`${label}, ${name}`} wrong={wrong}>
        {(ids) => (
          <FigureInput
            ids={ids}
            asked={column}
            unit={unit}
            value={amountOf(given, unit).value}
            onType={(value) => onGive({ value, unit })}
          />
        )}
      </Field>
    );
  }
  if (column.kind === "whole") {
    return (
      <Field label={label} wrong={wrong}>
        {(ids) => (
          <FigureInput
            ids={ids}
            asked={column}
            value={typeof given === "string" ? given : ""}
            onType={onGive}
          />
        )}
      </Field>
    );
  }
  return (
    <div class="table-row-words">
      <TextField label={label} wrong={wrong} value={typeof given === "string" ? given : ""} onType={onGive} />
    </div>
  );
}
