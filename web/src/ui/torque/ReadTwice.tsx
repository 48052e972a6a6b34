/** Two people who were apart and both took the final pass of the same bolts: said to both, nothing hidden (R14, R15). */

import type { JSX } from "preact";
import { nameOf } from "../../app/session";
import { NoticeLine } from "../parts";
import type { TorqueView } from "./seen";

export function ReadTwice({ view }: { view: TorqueView }): JSX.Element | null {
  const by = new Map<number, Set<string>>();
  for (const { reading } of view.readings) {
    const bolt = view.bolts.find((one) => one.n === reading.bolt);
    const was = reading.counts || reading.why_not === "superseded"; // it counted until the other one came in
    const stands = was && !reading.crossed_out_ms && reading.pass_no === view.passes.length;
    if (!stands || bolt?.state !== "done") continue;
    by.set(reading.bolt, (by.get(reading.bolt) ?? new Set()).add(reading.by));
  }
  const bolts = [...by].filter(([, people]) => people.size > 1);
  if (bolts.length === 0) return null;
  const people = [...new Set(bolts.flatMap(([, some]) => [...some]))].map(nameOf);
  const numbers = bolts.map(([n]) => n).sort((a, b) => a - b);
  return (
    <NoticeLine>
      {numbers.length === 1 ? "Bolt" : "Bolts"} {numbers.join(", ")}: tightened by {people.join(" and by ")}.
      All readings are kept; the one that came in last is the one that counts. Talk before anybody turns them
      again.
    </NoticeLine>
  );
}
