/** Typed numbers as text. Nothing here turns them into floats: what was typed is what is kept. */

/** The mark this locale writes between units and tenths. */
export function localeMark(locale?: string): "." | "," {
  const part = new Intl.NumberFormat(locale).formatToParts(1.5).find((p) => p.type === "decimal");
  return part?.value === "," ? "," : ".";
}

/** "92,5" or "92.5" as "92.5", the form that is compared and sent; undefined when it is no plain number. */
export function plainDecimal(typed: string): string | undefined {
  const text = typed.trim().replace(",", ".");
  if (!/^\d+(\.\d*)?$|^\.\d+$/.test(text)) return undefined;
  const filled = text.startsWith(".") ? `0${text}` : text;
  return filled.endsWith(".") ? filled.slice(0, -1) : filled;
}

const SIXTY_FOURTHS = 64;

/** Inches typed as "12", "7/16" or "12 7/16", in sixty-fourths; denominators 2 to 64 only. */
export function parseInches(typed: string): number | undefined {
  const match = /^(?:(\d{1,4})|(?:(\d{1,4})\s+)?(\d{1,2})\s*\/\s*(\d{1,2}))$/.exec(typed.trim());
  if (match === null) return undefined;
  if (match[1] !== undefined) return Number(match[1]) * SIXTY_FOURTHS;
  const numerator = Number(match[3]);
  const denominator = Number(match[4]);
  // "27/16" is more likely a lost space than an improper fraction, so it has to be typed again.
  if (![2, 4, 8, 16, 32, 64].includes(denominator) || numerator >= denominator) return undefined;
  return Number(match[2] ?? 0) * SIXTY_FOURTHS + (numerator * SIXTY_FOURTHS) / denominator;
}

/** Sixty-fourths as "12 7/16", in lowest terms. */
export function formatInches(sixtyFourths: number): string {
  const whole = Math.floor(sixtyFourths / SIXTY_FOURTHS);
  let part = sixtyFourths % SIXTY_FOURTHS;
  if (part === 0) return String(whole);
  let denominator = SIXTY_FOURTHS;
  while (part % 2 === 0) {
    part /= 2;
    denominator /= 2;
  }
  return whole === 0 ? `${part}/${denominator}` : `${whole} ${part}/${denominator}`;
}

/** Sixty-fourths as millimetres with one decimal, half away from zero; 1 in = 25.4 mm exactly. */
export function inchesInMm(sixtyFourths: number): string {
  const tenths = Math.floor((sixtyFourths * 254 + 32) / SIXTY_FOURTHS);
  return `${Math.floor(tenths / 10)}.${tenths % 10}`;
}
