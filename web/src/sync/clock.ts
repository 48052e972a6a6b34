/**
 * The service's clock against this phone's. What is made here bears the service's time, also without a signal: the rules
 * ask what came before what, and a phone that is half an hour slow must not say that a bolt came loose before it was
 * signed for. So each answer that tells the service's time is heard, and what it came to is kept.
 */

import { fact, setFact } from "../local/store";
import { heard, link } from "./link";

const FACT = "offset_ms";
/** An answer that took longer says too little about when it was given. */
const LONGEST_MS = 2_000;

/** `asked_ms`: this phone's clock when it asked; the service read its own half way, as near as can be told. */
export async function hearClock(now_ms: number | undefined, asked_ms: number): Promise<void> {
  const here_ms = Date.now();
  const took_ms = here_ms - asked_ms;
  // A service of before does not say; and whoever set the clock meanwhile makes it look as if time ran back.
  if (now_ms === undefined || took_ms < 0 || took_ms > LONGEST_MS) return heard();
  const before = link.value.offset_ms;
  heard(now_ms + took_ms / 2);
  if (link.value.offset_ms !== before) await setFact(FACT, link.value.offset_ms);
}

/** What was last known, before anything is made or shown. */
export async function knownClock(): Promise<void> {
  const offset_ms = await fact<number>(FACT);
  if (offset_ms !== undefined) link.value = { ...link.value, offset_ms };
}
