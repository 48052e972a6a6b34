/** Ready-made reasons (R10): three taps, a form never blocks. */

export const REASONS: readonly { key: string; word: string }[] = [
  { key: "time", word: "Out of time" },
  { key: "tired", word: "Tired" },
  { key: "cold", word: "Too cold" },
  { key: "no_part", word: "A part is missing" },
  { key: "no_tool", word: "A tool is missing" },
  { key: "no_skill", word: "I don't know how" },
  { key: "does_not_fit", word: "It does not fit" },
  { key: "damaged", word: "Something is damaged" },
  { key: "waiting_for_somebody", word: "I wait for somebody" },
  { key: "not_clear", word: "The manual is not clear" },
  { key: "hurt", word: "Somebody is hurt" },
  { key: "other", word: "Something else" },
];

const OF_THE_PERSON = ["time", "tired", "cold"];

/** For *I am stuck*: what the work lacks comes first, what the person lacks after it. */
export const STUCK_REASONS = [
  ...REASONS.filter(({ key }) => key !== "other" && !OF_THE_PERSON.includes(key)),
  ...REASONS.filter(({ key }) => key === "other" || OF_THE_PERSON.includes(key)),
];

/** Said by the rules, never chosen. */
const BY_RULE: Readonly<Record<string, string>> = {
  weighed: "Weighed, and it needs more than was given when it was called",
};

export function reasonWord(key: string | null | undefined): string {
  return REASONS.find((one) => one.key === key)?.word ?? BY_RULE[key ?? ""] ?? "Something else";
}
