/** What was set up for a group on this phone: it belongs to one person, one round and one go at the final pass. */

import { useEffect, useState } from "preact/hooks";
import { build } from "../../app/session";
import { fact, setFact } from "../../local/store";
import { reasonParts, type TwoParts } from "../words/reason";
import { type Setting, type TorqueView, type WrenchFor, wholeTorque } from "./seen";

type Round = Pick<TorqueView, "round" | "final_pass_from">;

export interface Kept extends Round {
  person: string | null;
  setting: Setting;
}

export function keptFor(view: Round, person: string | null, setting: Setting): Kept {
  return { person, round: view.round, final_pass_from: view.final_pass_from, setting };
}

/**
 * The kept setting while it is this person's own and nothing began anew since. After an undo somebody looks at faces
 * and threads again, after an interruption at the torque wrench; and nobody records what another one saw.
 */
export function holding(kept: Kept | null, view: Round, person: string | null): Setting | null {
  const same =
    kept?.person === person && kept?.round === view.round && kept?.final_pass_from === view.final_pass_from;
  return kept && same ? kept.setting : null;
}

/**
 * What has become of the torque wrench since it was chosen, or that it did for an early pass and does not for this one;
 * and what to do. Null: nothing.
 */
export function wrenchTrouble(view: TorqueView, setting: Setting, passNo: number | null): TwoParts | null {
  const wrench = view.wrenches.find((one) => one.wrench === setting.wrench);
  if (!wrench) {
    return {
      sentence: `Torque wrench ${setting.wrench} is no longer in the tool store.`,
      remedy: "Choose another.",
    };
  }
  const known = setting.for_early && !isEarly(view, passNo) ? [] : setting.unfit;
  const why = (wrench.why ?? []).find((one) => !known.includes(one.code));
  if (!why) return null;
  const { sentence, remedy } = reasonParts(why);
  return { sentence: `${setting.wrench}, set here before: ${sentence}`, remedy };
}

/** A pass before the one that brings the whole torque: any torque wrench does that reaches down to it (R11). */
function isEarly(view: Pick<TorqueView, "passes">, passNo: number | null): boolean {
  return passNo !== null && passNo < (wholeTorque(view)?.pass_no ?? view.passes.length);
}

/**
 * What was known to be wrong with it when it was chosen. Known in an early pass, it is asked anew at the whole torque; what
 * became of it since is told at once.
 */
export function knownUnfit(
  view: Pick<TorqueView, "passes">,
  passNo: number | null,
  wrench: WrenchFor,
): Pick<Setting, "unfit" | "for_early"> {
  return { unfit: (wrench.why ?? []).map((one) => one.code), for_early: isEarly(view, passNo) };
}

/** Kept per build, group and person; undefined until this phone has looked. */
export function useKept(
  group: string,
  person: string | null,
): [Kept | null | undefined, (kept: Kept) => void] {
  const name = `setting:${build.value?.id}:${group}:${person}`;
  const [kept, setKept] = useState<Kept | null | undefined>(undefined);
  useEffect(() => {
    let current = true;
    void fact<Kept>(name).then((found) => {
      if (current) setKept(found ?? null);
    });
    return () => {
      current = false;
    };
  }, [name]);
  return [
    kept,
    (now) => {
      setKept(now);
      void setFact(name, now);
    },
  ];
}
