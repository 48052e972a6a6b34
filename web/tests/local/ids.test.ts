import { expect, it } from "vitest";
import { newId, seenId } from "../../src/local/ids";

it("ids made on one phone sort in the order they were made, also within a millisecond", () => {
  const made = Array.from({ length: 500 }, () => newId(1_800_000_000_000));
  expect([...made].sort()).toEqual(made);
  expect(new Set(made).size).toBe(500);
});

it("ids are UUIDs of version 7 (RFC 9562)", () => {
  expect(newId()).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

it("what is made now comes after what a page that is gone had made, though the clock was set back since", () => {
  const before = "01ba60d3-3800-7000-8000-000000000000"; // 1 900 000 000 000 ms
  seenId(before);
  expect(newId(1_850_000_000_000) > before).toBe(true);
});
