/** Reading an answer whose shape only its calculation knows: figures with or without a unit, words, rows. */

export type Parts = Readonly<Record<string, unknown>>;

/** What a figure is without its unit. */
export function bareOf(value: unknown): unknown {
  return typeof value === "object" && value !== null && "value" in value ? value.value : value;
}

/** A figure, bare or `{value, unit}`, as a number; 0 where there is none. */
export function number(value: unknown): number {
  const bare = bareOf(value);
  return typeof bare === "number" ? bare : typeof bare === "string" ? Number(bare) : 0;
}

export function word(value: unknown): string {
  return typeof value === "string" ? value : "";
}

export function records(value: unknown): readonly Parts[] {
  return Array.isArray(value) ? (value as Parts[]) : [];
}

/** A list of figures, each with its unit. */
export function amounts(value: unknown): readonly number[] {
  return Array.isArray(value) ? value.map(number) : [];
}
