/** In which unit the words of a drawing are: what is drawn stays in kilograms and millimetres. */

export interface Scale {
  name: string;
  /** How many of it one kilogram, or one millimetre, is. */
  per: number;
}

export const KG: Scale = { name: "kg", per: 1 };
export const MM: Scale = { name: "mm", per: 1 };

/** What the service has rounded already stays as it is. */
export const AS_GIVEN: Scale = { name: "kg", per: 1 };

/** Tenths of a kilogram or a millimetre; of another unit four figures, which are as fine. */
export function amount(value: number, scale: Scale): string {
  if (scale === AS_GIVEN) return String(value);
  if (scale.per === 1) return String(Number(value.toFixed(1)));
  return String(Number((value * scale.per).toPrecision(4)));
}

/** "107.4 kg", "236.8 lb" */
export function said(value: number, scale: Scale): string {
  return `${amount(value, scale)} ${scale.name}`;
}

/** A round length of about a third of the load, for the scale bar, in mm and in words. */
export function roundLength(mm: number, scale: Scale): { mm: number; words: string } {
  if (scale.per === 1) {
    const length = [2000, 1000, 500, 200, 100].find((one) => one <= mm / 3) ?? 50;
    return { mm: length, words: length >= 1000 ? `${length / 1000} m` : `${length / 10} cm` };
  }
  const most = (mm / 3) * scale.per;
  const ten = 10 ** Math.floor(Math.log10(most));
  const length = ([5, 2].find((one) => one * ten <= most) ?? 1) * ten;
  return { mm: length / scale.per, words: `${Number(length.toPrecision(1))} ${scale.name}` };
}
