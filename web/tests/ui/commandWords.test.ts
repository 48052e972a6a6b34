import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { commandWords } from "../../src/ui/words/commands";
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
