/** Exact comparison of decimals written as text. The phone compares; it computes nothing else about a reading (R16). */

interface Scaled {
  digits: bigint;
  places: number;
}

/** Inches are typed in fractions down to 1/64, which six decimals hold exactly. */
const FRACTION = /^(?:(\d+) )?(\d+)\/(2|4|8|16|32|64)$/;

function scaled(text: string): Scaled {
  const plain = text.trim().replace(",", ".");
  const [, inches = "0", over, under] = FRACTION.exec(plain) ?? [];
  if (over && under) {
    return { digits: BigInt(inches) * 1_000_000n + (BigInt(over) * 1_000_000n) / BigInt(under), places: 6 };
  }
  if (!/^-?\d+(\.\d+)?$/.test(plain)) throw new Error(`not a plain decimal: ${text}`);
  const [whole = "0", part = ""] = plain.split(".");
  return { digits: BigInt(whole + part), places: part.length };
}

/** Negative, zero or positive: a before b, equal, after. */
export function compareDecimals(a: string, b: string): number {
  const left = scaled(a);
  const right = scaled(b);
  const places = Math.max(left.places, right.places);
  const difference =
    left.digits * 10n ** BigInt(places - left.places) - right.digits * 10n ** BigInt(places - right.places);
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** Is a value inside an accepted window, ends included? Both as the service prepared and the person typed them. */
export function insideWindow(value: string, low: string, high: string): boolean {
  return compareDecimals(value, low) >= 0 && compareDecimals(value, high) <= 0;
}
