/** Cautions of a task: in full before it is taken, afterwards one line each that opens again. Highest word first. */

import type { JSX } from "preact";
import { bySignalWord, SignalPanel, SignalStrip } from "../parts";
import { HAZARDS, type HazardWords } from "../words/hazards";
import type { TaskRow } from "./progress";

export function hazardsOf(task: TaskRow): (HazardWords & { key: string })[] {
  const known = HAZARDS as Record<string, HazardWords>;
  return bySignalWord(
    (task.plan.hazards ?? []).flatMap((key) => {
      const words = known[key];
      return words ? [{ ...words, key }] : [];
    }),
  );
}

export function Hazards({ task, full }: { task: TaskRow; full: boolean }): JSX.Element | null {
  const list = hazardsOf(task);
  if (list.length === 0) return null;
  return (
    <div class="stack">
      {list.map(({ key, word, what, does, how, deferTo, pictograms }) => {
        const panel = { word, what, does, how, deferTo, pictograms };
        return full ? <SignalPanel key={key} {...panel} /> : <SignalStrip key={key} {...panel} />;
      })}
    </div>
  );
}
