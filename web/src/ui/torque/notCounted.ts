/** My newest reading that is kept and does not count, while it leaves something to do: what is so, and the way on. */

import { reasonParts, type TwoParts } from "../words/reason";
import type { Seen, TorqueView } from "./seen";

type One = TorqueView["readings"][number];

export function notCounted(view: TorqueView, seen: Seen, person: string | null): TwoParts | null {
  if (view.countersign) return null;
  const mine = view.readings.filter(
    ({ reading }) => reading.by === person || (reading.helped ?? []).includes(person ?? ""),
  );
  const open = mine.filter((one) => leavesToDo(one, view, seen));
  const newest = open.at(-1);
  if (!newest?.why) return null;
  const told = reasonParts(newest.why);
  const together = open.filter(
    (one) =>
      commandOf(one) === commandOf(newest) && one.why && reasonParts(one.why).sentence === told.sentence,
  );
  const bolts = together.map((one) => one.reading.bolt);
  return {
    sentence: `${bolts.length > 1 ? "Bolts" : "Bolt"} ${bolts.join(", ")}: kept, not counted. ${told.sentence}`,
    remedy: told.remedy,
  };
}

/** A reading is named after the command that brought it. */
function commandOf({ reading }: One): string {
  return reading.id.split(".")[0] ?? reading.id;
}

function leavesToDo(one: One, view: TorqueView, seen: Seen): boolean {
  const { reading, why } = one;
  if (one.counts_now || !why || reading.round !== view.round || reading.crossed_out_why === "typed_wrong") {
    return false;
  }
  if (why.code === "already_turned") return true; // whoever turned it twice is told, although the bolt has its reading
  const bolt = view.bolts.find(({ n }) => n === reading.bolt);
  if (why.code === "needs_new" && !bolt?.needs_new) return false;
  if (why.code === "interrupted" && view.starts_again) return false; // said for the whole pass
  if (seen.pass === null || reading.pass_no < seen.pass) return false;
  if (reading.pass_no > seen.pass) return true;
  // Of the open pass: until it is read again, here or anywhere; out of order is put right once its pass has come.
  return why.code !== "earlier_pass_open" && seen.open.includes(reading.bolt);
}
