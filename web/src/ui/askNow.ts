/** Press a button whose command goes at once and never waits (*now*): busy, refused, or not known what became of it. */

import { useState } from "preact/hooks";
import { head } from "../app/mirror";
import { build, wake } from "../app/session";
import { now } from "../sync/now";
import type { Outcome, Problem } from "../wire/core";

const UNKNOWN: Problem = {
  code: "no_connection",
  title: "Not known",
  status: 0,
  detail: "No connection: it is not known whether this was done.",
  way_on: "This needs the connection. Look again when it is back; it is never sent twice by itself.",
};

export interface Extra {
  pin?: string;
  seen?: boolean; // say what was on the screen
  for_person?: string; // somebody else acts on this phone, with their own PIN
}

export interface Asking {
  busy: boolean;
  problem: Problem | null;
  clear(): void;
  /** Send; the outcome when it was accepted, else null with `problem` set. */
  ask(path: string, body?: Record<string, unknown>, extra?: Extra): Promise<Outcome | null>;
}

export function useNow(): Asking {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  return {
    busy,
    problem,
    clear: () => setProblem(null),
    async ask(path, body = {}, extra = {}) {
      const here = build.value;
      if (!here) return null;
      setBusy(true);
      setProblem(null);
      try {
        const seen = extra.seen && head.value ? { seen: head.value.number } : {};
        const pin = extra.pin === undefined ? {} : { pin: extra.pin };
        const whom = extra.for_person === undefined ? {} : { for_person: extra.for_person };
        const answer = await now({ build: here.id, path, body, ...seen, ...pin, ...whom });
        if ("unknown" in answer) {
          setProblem(UNKNOWN);
          return null;
        }
        wake();
        if (answer.outcome.status !== "accepted") {
          setProblem(answer.outcome.problem ?? UNKNOWN);
          return null;
        }
        return answer.outcome;
      } finally {
        setBusy(false);
      }
    },
  };
}
