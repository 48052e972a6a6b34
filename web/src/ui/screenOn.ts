/** The screen stays on while hands are busy: a torque, a check, a lift. */

import { useEffect } from "preact/hooks";

/**
 * Holds the screen on where the browser allows it, until the returned function is called. The browser lets go
 * whenever the page is hidden, so it is asked again each time the page is seen.
 */
export function keepScreenOn(): () => void {
  const asked = navigator.wakeLock;
  if (!asked) return () => undefined;
  const held = new Set<WakeLockSentinel>();
  let over = false;
  const ask = () => {
    if (document.visibilityState === "hidden") return;
    asked.request("screen").then(
      (lock) => {
        if (over) void lock.release();
        else held.add(lock);
      },
      () => undefined, // a low battery may refuse it; the work goes on
    );
  };
  ask();
  document.addEventListener("visibilitychange", ask);
  return () => {
    over = true;
    document.removeEventListener("visibilitychange", ask);
    for (const lock of held) void lock.release();
  };
}

export function useScreenOn(on: boolean): void {
  useEffect(() => (on ? keepScreenOn() : undefined), [on]);
}
