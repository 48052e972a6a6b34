import { expect, it } from "vitest";
import { notTakenYet } from "../../src/ui/task/notYet";

const first = (about: string) => ({ code: "task", says: "{about} comes first.", params: { about } });
const view = (waits: ReturnType<typeof first>[], not_for_me: object | null = null) => ({
  waits,
  card: { not_for_me: not_for_me as never },
});

/** The words of R5 and R8 on the button: "T605 waits for T506", "T506 is not for under-18s". */
it.each([
  [view([]), true, undefined],
  [view([first("T405")]), true, "T405 comes first"],
  [view([first("T405"), first("T408"), first("T606")]), true, "T405 comes first, and 2 more"],
  [view([], { code: "minor_no", says: "Not for under-18s." }), true, "not for under-18s"],
  [
    view([first("T405")], { code: "needs_skill", says: "", params: { skill: "fuel" } }),
    true,
    "it needs the fuel skill",
  ],
  [view([], { code: "minor_no", says: "Not for under-18s." }), false, undefined], // typed for an adult
  [null, true, undefined],
])("%j", (prepared, mine, words) => {
  expect(notTakenYet(prepared, mine)).toBe(words);
});
