/** The inputs in an address: sent on, it opens the same form, filled. */

import type { Amount, AskedFor, Given, Inputs, Row, Single } from "./inputs";

const MOST_ROWS = 100;

export function linkTo(origin: string, name: string, inputs: Inputs, wanted: readonly string[] = []): string {
  const answer = wanted.length > 0 ? `&in=${encodeURIComponent(wanted.join(","))}` : "";
  return `${origin}/bench/${name}?with=${encodeURIComponent(JSON.stringify(inputs))}${answer}`;
}

/** The units an address wants the answer in, of those that are offered. */
export function wantedIn(search: string, offered: readonly string[]): readonly string[] {
  const wanted = new URLSearchParams(search).get("in")?.split(",") ?? [];
  return wanted.filter((unit) => offered.includes(unit));
}

/** What of an address fits this form. Anybody may have written it, or cut it off: the rest is left out. */
export function inputsIn(search: string, form: readonly AskedFor[]): Inputs {
  let read: unknown;
  try {
    read = JSON.parse(new URLSearchParams(search).get("with") ?? "{}");
  } catch {
    return {};
  }
  if (!isRecord(read)) return {};
  const inputs: Record<string, Given> = {};
  for (const asked of form) {
    const given = fitting(asked, read[asked.name]);
    if (given !== undefined) inputs[asked.name] = given;
  }
  return inputs;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function fitting(asked: AskedFor, value: unknown): Given | undefined {
  if (asked.kind === "rows") {
    return Array.isArray(value) ? value.slice(0, MOST_ROWS).filter(isRecord).map(rowFor(asked)) : undefined;
  }
  if (asked.kind === "numbers" || asked.kind === "texts") {
    if (!Array.isArray(value)) return undefined;
    return value
      .slice(0, MOST_ROWS)
      .flatMap((one) => (asked.units.length > 0 ? amount(asked, one) : text(one)) ?? []);
  }
  return single(asked, value);
}

function rowFor(asked: AskedFor): (row: Record<string, unknown>) => Row {
  return (row) =>
    Object.fromEntries(
      asked.columns.flatMap((column) => {
        const cell = single(column, row[column.name]);
        return cell === undefined ? [] : [[column.name, cell]];
      }),
    );
}

function single(asked: AskedFor, value: unknown): Single | undefined {
  if (asked.kind === "yes_no") return typeof value === "boolean" ? value : undefined;
  if (asked.units.length > 0) return amount(asked, value);
  const said = text(value);
  return asked.kind === "choice" && said !== undefined && !asked.choices.includes(said) ? undefined : said;
}

function amount(asked: AskedFor, value: unknown): Amount | undefined {
  if (!isRecord(value) || !asked.units.some((unit) => unit.id === value.unit)) return undefined;
  const figure = text(value.value);
  return figure === undefined ? undefined : { value: figure, unit: String(value.unit) };
}

function text(value: unknown): string | undefined {
  return typeof value === "string" || typeof value === "number" ? String(value) : undefined;
}
