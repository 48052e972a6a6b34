import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { laidOver, type TaskRow } from "../../src/app/tasks";
import type { Waiting } from "../../src/local/store";

const open = { id: "T1", state: "open", holder: null, mates: [], stuck: null } as unknown as TaskRow;
const bram = {
  ...open,
  state: "taken",
  holder: "bram",
  mates: [{ person: "aled", learner: false }],
} as TaskRow;

let number = 0;

/** What waits on Aled's phone; `for_person` where he typed for somebody else. */
function said(kind: string, body: Record<string, unknown> = {}, for_person?: string): Waiting {
  number += 1;
  const id = String(number);
  const envelope = { id, kind, device_ms: number, body: { task: "T1", ...body } };
  const made = { id, build: "b", by: "aled", made_ms: number, state: "waiting" } as const;
  return { ...made, envelope: for_person ? { ...envelope, for_person } : envelope };
}

it.each<[string, TaskRow, Waiting[], string]>([
  ["asked for", open, [said("task.take")], "taken by aled"],
  [
    "asked for, and stuck",
    open,
    [said("task.take"), said("task.stuck", { reason: "tool" })],
    "taken by aled, stuck: tool",
  ],
  [
    "stuck and gone on",
    open,
    [said("task.take"), said("task.stuck", { reason: "tool" }), said("task.go_on")],
    "taken by aled",
  ],
  [
    "asked for, and given back",
    open,
    [said("task.take"), said("task.give_back", { reason: "time" })],
    "open",
  ],
  [
    "asked for, and gone home from",
    open,
    [said("task.take"), said("task.go_home", { reason: "time" })],
    "open",
  ],
  [
    "asked for, and passed on",
    open,
    [said("task.take"), said("task.pass_on", { to_person: "kofi" })],
    "taken by kofi",
  ],
  [
    "asked for and signed off: no signature stands",
    open,
    [said("task.take"), said("task.sign_off")],
    "taken by aled, signed here",
  ],
  ["signed off, and taken again", open, [said("task.sign_off"), said("task.take")], "taken by aled"],
  [
    "a mate goes home: the holder has it still",
    bram,
    [said("task.go_home", { reason: "time" })],
    "taken by bram",
  ],
  ["joined", { ...bram, mates: [] }, [said("task.join")], "taken by bram with aled"],
  ["left", bram, [said("task.leave")], "taken by bram"],
  ["taken over by a mate", bram, [said("task.take_over")], "taken by aled"],
  ["typed for somebody else", open, [said("task.take", {}, "kofi")], "taken by kofi"],
  ["ticks change nothing here", open, [said("task.tick", { steps: ["a"] })], "open"],
])("%s", (_case, row, waiting, is) => {
  const seen = laidOver(row, waiting);
  const mates = seen.row.mates.map(({ person }) => person).join();
  const words = [
    seen.row.state + (seen.row.holder ? ` by ${seen.row.holder}` : "") + (mates ? ` with ${mates}` : ""),
    ...(seen.row.stuck ? [`stuck: ${seen.row.stuck.reason}`] : []),
    ...(seen.signed ? ["signed here"] : []),
  ];
  expect(words.join(", ")).toBe(is);
});
