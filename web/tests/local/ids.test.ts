import { expect, it } from "vitest";
import { newId } from "../../src/local/ids";

it("ids made on one phone sort in the order they were made, also within a millisecond", () => {
  const made = Array.from({ length: 500 }, () => newId(1_800_000_000_000));
  expect([...made].sort()).toEqual(made);
  expect(new Set(made).size).toBe(500);
});

it("ids are UUIDs of version 7 (RFC 9562)", () => {
  expect(newId()).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});
