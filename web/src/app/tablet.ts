/**
 * The garage's shared tablet signs out after a minute without a press (R29). The service does that; while it can't be reached
 * this page does, or whoever comes next would act as the one before. What they made waits until they sign in again.
 */

import { link } from "../sync/link";
import { me, signOutHere } from "./session";

const MINUTE_MS = 60_000;
const LOOKS_EVERY_MS = 1_000;

/** `held`: whoever is at it stands at a load, and has no hand free to press (R19). */
export function watchTablet(held: () => boolean): void {
  let pressed_ms = Date.now();
  const press = () => {
    pressed_ms = Date.now();
  };
  for (const kind of ["pointerdown", "keydown"]) addEventListener(kind, press, { capture: true });
  setInterval(() => {
    const here = me.value;
    if (!here?.device_shared || !here.person || link.value.up || held()) return;
    if (Math.abs(Date.now() - pressed_ms) > MINUTE_MS) void signOutHere(); // a clock that was set back does not keep them in
  }, LOOKS_EVERY_MS);
}
