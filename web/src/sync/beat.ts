/** The beat of a lift: while one goes on, this phone says every 2 s that it is alive (R18). Outside the ledger. */

import { call } from "../wire/call";
import { heard, silent } from "./link";

const EVERY_MS = 2_000;

/** Beat until stopped. */
export function beat(build: string): () => void {
  const tick = () =>
    void call("POST", `/api/builds/${build}/beat`, {}, { timeoutMs: 3_000 }).then(
      () => heard(),
      () => silent(),
    );
  tick();
  const timer = setInterval(tick, EVERY_MS);
  return () => clearInterval(timer);
}
