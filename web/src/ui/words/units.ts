/** Units as they are written and as they are heard. */

const WRITTEN: Record<string, string> = {
  n_m: "N·m",
  lbf_ft: "lbf·ft",
  lbf_in: "lbf·in",
  ozf_in: "ozf·in",
  kgf_m: "kgf·m",
  kgf_cm: "kgf·cm",
  deg: "°",
  l: "L",
  v: "V",
  c: "°C",
  count: "",
};
const HEARD: Record<string, string> = {
  n_m: "newton metres",
  lbf_ft: "pound feet",
  lbf_in: "pound inches",
  kgf_m: "kilogram metres",
  mm: "millimetres",
  in: "inches",
  kg: "kilograms",
  deg: "degrees",
};

export function unitWord(unit: string): string {
  return WRITTEN[unit] ?? unit;
}

export function unitHeard(unit: string): string {
  return HEARD[unit] ?? unitWord(unit);
}
