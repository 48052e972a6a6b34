/** What no first screen needs: done once it stands and the page rests. */

import { effect } from "@preact/signals";
import { started } from "./session";

const AT_LATEST_MS = 5_000;

function atRest(work: () => void): void {
  if (typeof requestIdleCallback === "function") requestIdleCallback(work, { timeout: AT_LATEST_MS });
  else setTimeout(work, 1_000); // some browsers tell of no rest
}

export function afterTheFirstScreen(...works: (() => void)[]): void {
  const stop = effect(() => {
    if (!started.value) return;
    for (const work of works) atRest(work);
    queueMicrotask(() => stop());
  });
}
