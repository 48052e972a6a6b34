/** What a countersign of a bolt would rest on: each reading's time, its torque wrench, and how that stood then. */

import { fullNameOf } from "../../app/session";
import { reasonWords } from "../words/reason";
import { lastDay, moment } from "../words/times";
import { readingWords, type TorqueView, wholeTorque } from "./seen";

type ReadingOut = TorqueView["readings"][number];

/** The readings that stand for a bolt's whole torque and for every turn after it. */
export function behind(view: TorqueView, bolt: number): ReadingOut[] {
  const from = wholeTorque(view)?.pass_no ?? view.passes.length;
  return view.readings.filter(
    ({ counts_now, reading }) => counts_now && reading.bolt === bolt && reading.pass_no >= from,
  );
}

/** When it was taken; an answer that this phone kept from before knows when the service had it. */
export function takenMs(one: ReadingOut): number {
  return one.taken_ms ?? one.reading.at_ms;
}

/** The check of its torque wrench; nothing where an answer that this phone kept from before does not say. */
function checkWords(one: ReadingOut): string[] {
  const until = one.check_until_ms;
  if (until === undefined) return [];
  if (!until) return ["no check on record"];
  return [`check ${until <= takenMs(one) ? "was due" : "due"} ${lastDay(until)}`];
}

/** "Bram, 14:06, torque wrench W1, check due 3 Mar 2027" */
export function howTaken(one: ReadingOut): string {
  const { wrench } = one.reading;
  return [
    fullNameOf(one.reading.by),
    moment(takenMs(one)),
    ...(wrench ? [`torque wrench ${wrench}`, ...checkWords(one)] : []),
  ].join(", ");
}

/** One line for each reading; with what was read before it where a bolt has more than one. */
export function howLines(readings: readonly ReadingOut[]): string[] {
  return readings.map((one) =>
    readings.length > 1 ? `${readingWords(one.reading)}: ${howTaken(one)}` : howTaken(one),
  );
}

/** What was already wrong with its torque wrench when it was read: past its check, dropped (R11). */
export function wrenchWarnings(readings: readonly ReadingOut[]): string[] {
  return readings.flatMap((one) =>
    (one.wrench_unfit ?? []).map((why) => `When it was read: ${reasonWords(why)}`),
  );
}
