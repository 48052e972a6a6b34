import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { takeInMirror } from "../../src/app/mirror";
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
    body: {
      group: "G1",
      set_value: "44",
      unit: "n_m",
      bolts: [{ n: 1 }, { n: 2, reading: "43.5" }],
      note_text: "dirty",
    },
  };
  expect(typedWords(said)).toBe("Bolt 1: clicked at 44 N·m. Bolt 2: 43.5 N·m. “dirty”");
  expect(typedFigures(said)).toBe("Bolt 1: clicked at 44 N·m. Bolt 2: 43.5 N·m.");
  expect(typedTexts(said)).toEqual(["dirty"]);
});

it("names steps by their numbers, where the task is on this phone", () => {
  const body = { task: "T9", steps: ["drain", "cap"] };
  expect(typedFigures({ kind: "task.tick", body })).toBe("Steps drain, cap.");
  const steps = [{ id: "open" }, { id: "drain" }, { id: "cap" }];
  const rows = [{ kind: "task", id: "T9", changed_at: 1, body: { id: "T9", plan: { steps } } }];
  const head = { number: 1, digest: "d" };
  takeInMirror({ head, now_ms: 0, forked: false, reset: false, outcomes: [], rows });
  expect(typedFigures({ kind: "task.tick", body })).toBe("Steps 2, 3.");
  const measured = { task: "T9", step: "cap", value: "1,2", unit: "mm" };
  expect(typedFigures({ kind: "task.measure", body: measured })).toBe("Step 3. 1,2 mm.");
});
