/** What came out: every figure with its unit and what it says; a list of records explains its figures once. */

import type { JSX } from "preact";
import type { components } from "../../wire/schema";
import { type Rounding, usual } from "./figures";
import { choiceWord } from "./inputs";
import { bareOf, records } from "./read";

export type Told = components["schemas"]["Told"];

const DECIMAL = /^-?\d+\.\d+$/;
/** An exact decimal that does not end comes with twelve figures. */
const ENDS = 12;

/** Rounded to what means something, without noise at the end; exact decimals and counts stay as they came. */
export function figure(value: unknown, { round, exact }: Rounding = usual): string {
  if (typeof value === "number") return String(Number.isInteger(value) ? value : round(value));
  if (typeof value === "string" && DECIMAL.test(value) && (!exact || value.length > ENDS))
    return String(round(Number(value)));
  if (typeof value === "boolean") return value ? "yes" : "no";
  return value === null || value === undefined || value === "" ? "none" : choiceWord(String(value));
}

/** "107.387 kg", "45°", "1, 5, 3": a figure, or a list of them, as it is written. */
export function written(result: unknown, told: Told, rounding: Rounding = usual): string {
  const bare = bareOf(result);
  if (Array.isArray(bare) && bare.length === 0) return "none";
  const figures = Array.isArray(bare)
    ? bare.map((one) => figure(bareOf(one), rounding)).join(", ")
    : figure(bare, rounding);
  const unit = unitOf(result, told);
  if (bare === null || bare === "" || unit === "") return figures;
  return unit === "°" ? `${figures}${unit}` : `${figures} ${unit}`;
}

/** The unit a figure came in, as it is written. */
function unitOf(result: unknown, told: Told): string {
  const one = Array.isArray(result) ? result[0] : result;
  const id = typeof one === "object" && one !== null && "unit" in one ? one.unit : told.unit;
  return told.units.find((unit) => unit.id === id)?.name ?? "";
}

interface Answered {
  result: unknown;
  told: Told;
  rounding: Rounding;
}

export function Answer({ result, told, rounding }: Answered): JSX.Element {
  if (told.parts.length === 0) {
    return (
      <div>
        <p class="t-strong">{written(result, told, rounding)}</p>
        {told.text && <p class="field-help">{told.text}</p>}
      </div>
    );
  }
  if (told.many) return <Records rows={records(result)} told={told} rounding={rounding} />;
  const record = result as Record<string, unknown>;
  const lists = told.parts.filter((part) => part.many && part.parts.length > 0);
  return (
    <div class="stack">
      <dl class="answer">
        {told.parts
          .filter((part) => !lists.includes(part))
          .map((part) => (
            <div key={part.name} class="answer-line">
              <dt>{part.label}</dt>
              <dd>{written(record[part.name], part, rounding)}</dd>
              <dd class="answer-says">{part.text}</dd>
            </div>
          ))}
      </dl>
      {lists.map((part) => (
        <section key={part.name} class="stack">
          <h3>{part.label}</h3>
          <Records rows={records(record[part.name])} told={part} rounding={rounding} />
        </section>
      ))}
    </div>
  );
}

/** Records of one kind: what their figures say stands above them, once. */
function Records({
  rows,
  told,
  rounding,
}: {
  rows: readonly Readonly<Record<string, unknown>>[];
  told: Told;
  rounding: Rounding;
}): JSX.Element {
  return (
    <>
      <details class="drawing-list">
        <summary>What the figures say</summary>
        <ul class="column-help">
          {told.parts.map((part) => (
            <li key={part.name}>
              <b>{part.label}</b>: {part.text}
            </li>
          ))}
        </ul>
      </details>
      <ol class="answer-records">
        {rows.map((row, index) => (
          <li key={index}>
            <dl class="answer-record">
              {told.parts
                .filter((part) => row[part.name] !== "" && bareOf(row[part.name]) !== null)
                .map((part) => (
                  <div key={part.name} class={Array.isArray(row[part.name]) ? "answer-wide" : undefined}>
                    <dt>{part.label}</dt>
                    <dd>{written(row[part.name], part, rounding)}</dd>
                  </div>
                ))}
            </dl>
          </li>
        ))}
      </ol>
    </>
  );
}
