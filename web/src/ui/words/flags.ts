/** A prepared card as a tag's props: words beside every flag. */

import { nameOf } from "../../app/session";
import type { components } from "../../wire/schema";
import type { FlagData } from "../parts";
import { HAZARDS } from "./hazards";
import { reasonWord } from "./reasons";

type Card = components["schemas"]["Card"];
type CardFlag = components["schemas"]["CardFlag"];

const SIGNAL: Record<string, string> = { danger: "Danger", warning: "Warning", caution: "Caution" };

function word(flag: CardFlag): string {
  const about = flag.about ?? "";
  if (SIGNAL[flag.kind]) {
    const known = (HAZARDS as Record<string, { short: string }>)[about];
    return `${SIGNAL[flag.kind]}: ${known?.short ?? about.replaceAll("_", " ")}`;
  }
  if (flag.kind === "hands") return `${flag.count} pairs of hands`;
  if (flag.kind === "lift") return `${flag.count} to lift`;
  if (flag.kind === "torque_check") return "Torque check";
  if (flag.kind === "hold_point") return "Hold point";
  if (flag.kind === "stuck") return `Stuck: ${reasonWord(about).toLowerCase()}`;
  if (flag.kind === "waiting") return `Waiting: ${about}`;
  if (flag.kind === "under_car") return `Under the car: ${nameOf(flag.person)}`;
  return flag.kind.replaceAll("_", " ");
}

export function flagsOf(card: Card): FlagData[] {
  return card.flags.map((flag) => ({
    kind: flag.kind as FlagData["kind"],
    word: word(flag),
    ...(flag.count ? { people: Math.min(4, flag.count) } : {}),
  }));
}
