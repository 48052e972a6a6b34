/**
 * Presses of *Leave my place*, made here ahead of need. They go with a new private limit: where a place no longer suits,
 * the service leaves it with one of them, so that the record tells nobody whether it was pressed (R21).
 */

import { newId } from "../local/ids";
import { link } from "../sync/link";

export interface LeavePress {
  id: string;
  device_ms: number;
}

const PLACES = 4; // in as many lifts at once, of all builds
const APART_MS = [1_500, 4_000] as const; // as a person goes from one lift's screen to the next

/** In the order made; the last one is made now. */
export function leavePresses(now = Date.now()): LeavePress[] {
  const [least, most] = APART_MS;
  const moments = [now];
  while (moments.length < PLACES)
    moments.unshift((moments[0] ?? now) - Math.round(least + Math.random() * (most - least)));
  return moments.map((at) => ({ id: newId(at), device_ms: at + link.value.offset_ms }));
}
