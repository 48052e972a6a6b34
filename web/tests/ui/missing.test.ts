import { expect, it } from "vitest";
import { missingWords } from "../../src/ui/task/missing";

it.each([
  [{ code: "people_needed", params: { needed: 4, missing: 3 } }, "3 more needed"],
  [{ code: "skilled_needed", params: { needed: 2, missing: 1 } }, "1 more needed"],
  [{ code: "alone", params: {} }, "a second adult is needed"],
  [{ code: "hold_left_out", params: { number: 2 } }, "leaving out hold point 2 waits for a yes"],
  [{ code: "gate_shut", params: {} }, undefined], // what is put back may be ticked all the same: the service says
  [null, undefined],
])("%j", (paused, words) => {
  expect(missingWords(paused)).toBe(words);
});
