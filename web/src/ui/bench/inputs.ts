/** What a form of the Bench asks for and what was typed into it, as plain data. */

import type { Problem } from "../../wire/core";
import type { components } from "../../wire/schema";
import { unitWord } from "../words/units";

export type AskedFor = components["schemas"]["AskedFor"];

/** A figure as typed, with the unit chosen beside it. */
export interface Amount {
  value: string;
  unit: string;
}
export type Single = string | boolean | Amount;
/** One row of a table, by column. */
export type Row = { readonly [column: string]: Single };
export type Given = Single | readonly (string | Amount)[] | readonly Row[];
export type Inputs = { readonly [name: string]: Given };

/** A word that is offered or answered, as it is written: "lbf·ft", "strong warn"; what a person typed stays. */
export function choiceWord(word: string): string {
  if (!/^[a-z]+(_[a-z]+)+$/.test(word)) return word;
  const unit = unitWord(word);
  return unit === word ? word.replaceAll("_", " ") : unit;
}

/** What an input is, between which limits, and what counts when nothing is typed. */
export function help(asked: AskedFor): string {
  const unit = asked.units.find((one) => one.id === asked.unit)?.name ?? "";
  const behind = unit === "" || unit === "°" ? unit : ` ${unit}`;
  const limits = asked.low === null || asked.high === null ? "" : `, ${asked.low} to ${asked.high}${behind}`;
  const silent = asked.kind === "yes_no" || asked.kind === "choice" || asked.default === null;
  const default_ = asked.default?.replace(/^\((.*?),?\)$/, "$1").replace(/\.0$/, "");
  const otherwise = silent ? "" : ` (else ${default_}${behind})`;
  return `${asked.text}${limits}${otherwise}`;
}

export function typed(given: Single | undefined): boolean {
  if (given === undefined) return false;
  return (typeof given === "object" ? given.value : String(given)).trim() !== "";
}

/** A table starts with one empty row. */
export function rowsOf(given: Given | undefined): readonly Row[] {
  return Array.isArray(given) && given.length > 0 ? (given as readonly Row[]) : [{}];
}

export function itemsOf(given: Given | undefined): readonly (string | Amount)[] {
  return Array.isArray(given) ? (given as readonly (string | Amount)[]) : [];
}

function needed(asked: AskedFor): boolean {
  return !asked.optional && asked.kind !== "yes_no";
}

/** The first input that is still to be given: "radius in row 2 of pulleys". */
export function missing(form: readonly AskedFor[], inputs: Inputs): string | undefined {
  for (const asked of form) {
    const given = inputs[asked.name];
    const name = asked.label;
    if (asked.kind === "rows") {
      for (const [index, row] of rowsOf(given).entries()) {
        const open = asked.columns.find((column) => needed(column) && !typed(row[column.name]));
        if (open) return `${open.label} in row ${index + 1} of ${name.toLowerCase()}`;
      }
    } else if (needed(asked)) {
      const there = Array.isArray(given) ? itemsOf(given).some(typed) : typed(given as Single | undefined);
      if (!there) return name;
    }
  }
  return undefined;
}

/** What goes to the service: nothing that was left empty. */
export function filled(form: readonly AskedFor[], inputs: Inputs): Inputs {
  const sent: Record<string, Given> = {};
  for (const asked of form) {
    const given = inputs[asked.name];
    if (asked.kind === "rows") {
      sent[asked.name] = rowsOf(given).map((row) =>
        Object.fromEntries(Object.entries(row).filter(([, one]) => typed(one))),
      );
    } else if (Array.isArray(given)) {
      const items = itemsOf(given).filter(typed);
      if (items.length > 0) sent[asked.name] = items;
    } else if (given !== undefined && typed(given as Single)) sent[asked.name] = given;
  }
  return sent;
}

/** Every place of the form that can carry a refusal of its own, as the service names it. */
export function fieldsOf(form: readonly AskedFor[], inputs: Inputs): readonly string[] {
  return form.flatMap((asked) => {
    const given = inputs[asked.name];
    if (asked.kind === "rows") {
      const rows = rowsOf(given).map((_, index) => `${asked.name}[${index}]`);
      const cells = rows.flatMap((row) => asked.columns.map((column) => `${row}.${column.name}`));
      return [asked.name, ...rows, ...cells];
    }
    return [asked.name, ...itemsOf(given).map((_, index) => `${asked.name}[${index}]`)];
  });
}

/** The field that a refusal names. */
export function fieldOf(problem: Problem | null): string | undefined {
  const field = problem?.params?.field ?? problem?.field;
  return field === undefined ? undefined : String(field);
}

/** The sentence for that field, without its name: it stands there already. */
export function sentenceOf(problem: Problem): string {
  const said = String(problem.params?.problem ?? problem.detail);
  return `${said.charAt(0).toUpperCase()}${said.slice(1)} ${problem.way_on ?? ""}`.trim();
}
