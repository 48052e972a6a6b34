import { useState } from "preact/hooks";
import { DayStrip, FinishRange, StageWire } from "../ui/drawings";
import { Tag } from "../ui/parts";
import type { Page } from "./page";

const DAY_MS = 86_400_000;
const TODAY_MS = Date.UTC(2026, 10, 25);

function Plan() {
  const [open, setOpen] = useState(false);
  return (
    <div class="stack-wide">
      <FinishRange
        gate="First start"
        sentence="First start: half a chance by 7 Dec, four in five by 21 Dec. Wanted: 14 Dec."
        today={{ at_ms: TODAY_MS, word: "25 Nov" }}
        p50={{ at_ms: TODAY_MS + 12 * DAY_MS, word: "7 Dec" }}
        p80={{ at_ms: TODAY_MS + 26 * DAY_MS, word: "21 Dec" }}
        wanted={{ at_ms: TODAY_MS + 19 * DAY_MS, word: "14 Dec" }}
        drivers={["T505 waits for four people on a Saturday."]}
      />
      <div>
        <StageWire
          stage="S05"
          name="Engine and gearbox"
          closed={2}
          holders={["Ines has T506"]}
          open={open}
          onToggle={() => setOpen(!open)}
          marks={[
            { number: "T501", state: "closed" },
            { number: "T502", state: "closed" },
            { number: "T503", state: "check_due" },
            { number: "T504", state: "ready_undone" },
            { number: "T505", state: "ready" },
            { number: "T506", state: "taken", lit: true },
            { number: "T507", state: "waiting" },
            { number: "T508", state: "stuck" },
          ]}
        >
          <Tag number="T505" state="ready" title="Lower engine and gearbox into frame" href="#task" />
        </StageWire>
        <StageWire
          stage="S10"
          name="Electrical"
          closed={0}
          open={false}
          onToggle={() => undefined}
          marks={Array.from({ length: 13 }, (_, i) => ({
            number: `T10${i}`,
            state:
              i === 3 ? ("left_out" as const) : i === 9 ? ("not_for_you" as const) : ("waiting" as const),
          }))}
        />
      </div>
    </div>
  );
}

function Day() {
  return (
    <DayStrip
      day="Saturday 28 November"
      from_min={570}
      to_min={960}
      breaks={[{ from_min: 735, to_min: 780, word: "lunch" }]}
      me="aled"
      now_min={665}
      persons={[
        {
          key: "aled",
          name: "Aled",
          blocks: [
            { label: "T605", from_min: 585, to_min: 690, state: "taken" },
            { label: "T802", from_min: 780, to_min: 830, state: "planned" },
          ],
        },
        { key: "bram", name: "Bram", blocks: [{ label: "T901", from_min: 585, to_min: 660, state: "done" }] },
        {
          key: "desmond",
          name: "Desmond",
          blocks: [{ label: "T403", from_min: 600, to_min: 640, state: "done" }],
        },
        {
          key: "sofia",
          name: "Sofia",
          blocks: [{ label: "T605", from_min: 585, to_min: 690, state: "company" }],
        },
      ]}
      lifts={[{ label: "L7", from_min: 840, to_min: 900, persons: ["aled", "bram", "sofia"] }]}
    />
  );
}

export const PLAN_PAGES: readonly Page[] = [
  { key: "plan", title: "Finish range and stage wires", Show: Plan },
  { key: "day", title: "Day strip", Show: Day },
];
