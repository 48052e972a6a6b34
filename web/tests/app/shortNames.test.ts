import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { shortNames } from "../../src/app/shortNames";

interface Case {
  why: string;
  names: Record<string, string>;
  short: Record<string, string>;
}

const { cases } = JSON.parse(
  readFileSync(new URL("../../../tests/cases/short_names.json", import.meta.url), "utf8"),
) as { cases: Case[] };

it.each(cases)("R27: each is said as short as the crew can tell them apart: $why", ({ names, short }) => {
  expect(Object.fromEntries(shortNames(new Map(Object.entries(names))))).toEqual(short);
});
