/** Numbers as people type them: comma or point, no thousands marks, kept as typed. Inches also as fractions. */

const DECIMAL = /^-?\d{1,9}([.,]\d{1,6})?$/;
const INCHES = /^(\d{1,4} )?\d{1,2}\/(2|4|8|16|32|64)$/;

/** True where the service would read a number there. */
export function readNumber(typed: string): boolean {
  const text = typed.trim();
  return DECIMAL.test(text) || INCHES.test(text);
}
