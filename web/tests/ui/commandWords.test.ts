import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { commandWords, typedFigures, typedTexts, typedWords } from "../../src/ui/words/commands";
import type { Envelope } from "../../src/wire/core";

type Said = Pick<Envelope, "kind" | "body">;

/** Every command that may wait on a phone, as the service's own tests know them. */
const { commands } = JSON.parse(
  readFileSync(new URL("../../../tests/cases/outbox.json", import.meta.url), "utf8"),
) as { commands: Said[] };

function words(kind: string, body: Said["body"] = {}): string {
  return commandWords({ id: "c1", device_ms: 0, kind, body });
}

it.each([...new Set(commands.map(({ kind }) => kind))])("%s has words of its own while it waits", (kind) => {
  for (const one of commands.filter((said) => said.kind === kind))
    expect(words(kind, one.body)).not.toContain(kind);
});

it("says what the button said", () => {
  expect(words("engine.say", { running: true })).toBe("The engine is running");
  expect(words("engine.say", { running: false })).toBe("The engine is off");
  expect(words("wrench.retire", { wrench: "W9" })).toBe("Out of use W9");
  expect(words("wrench.retire", { wrench: "W9", back: true })).toBe("Back into use W9");
  expect(words("tool.borrow", { tool: "stands" })).toBe("I take it: stands");
});

it("says what was typed; in the record the words stand apart from the figures, by the id of their payload", () => {
  const said = {
    kind: "torque.read",
    body: { group: "G1", set_value: "44", bolts: [{ n: 1 }, { n: 2, reading: "43.5" }], note_text: "dirty" },
  };
  expect(typedWords(said)).toBe("Bolt 1: clicked at 44. Bolt 2: 43.5. “dirty”");
  expect(typedFigures(said)).toBe("Bolt 1: clicked at 44. Bolt 2: 43.5.");
  expect(typedTexts(said)).toEqual(["dirty"]);
});
