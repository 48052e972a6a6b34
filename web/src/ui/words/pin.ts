/** R29, R32: what a PIN must be, said before it is sent. The service judges again. */

export function pinTrouble(pin: string, role: string): string | undefined {
  const digits = /^\d+$/.test(pin);
  const least = role === "lead" ? 8 : 6;
  if (pin.length === 0) return role === "lead" ? "eight digits or more, or a phrase" : "six digits or more";
  if (digits && new Set(pin).size === 1) return "not all the same digit";
  if (digits && pin.length < least)
    return least === 8 ? "eight digits or more, or a phrase" : "six digits or more";
  if (!digits && pin.length < 8) return "a phrase has eight letters or more";
  return undefined;
}
