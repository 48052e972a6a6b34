/** A word every two seconds that this phone is alive, while its owner is in a lift. Nothing of it is kept. */

import { call, NoConnection, Refusal } from "../wire/call";
import { heard, silent } from "./link";

const BEAT_MS = 2_000;

/** Beat until the returned function is called. */
export function startBeat(build: string): () => void {
  let over = false;
  async function beats(): Promise<void> {
    while (!over) {
      try {
        await call<unknown>("POST", `/api/builds/${build}/beat`, {}, { timeoutMs: BEAT_MS });
        heard();
      } catch (problem) {
        if (problem instanceof NoConnection) silent();
        else if (!(problem instanceof Refusal)) throw problem;
      }
      await new Promise((done) => setTimeout(done, BEAT_MS));
    }
  }
  void beats();
  return () => {
    over = true;
  };
}
