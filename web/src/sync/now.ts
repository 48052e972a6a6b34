/**
 * Commands that are sent once and never wait: roll call, lift, countersign with PIN, gate.
 * When the answer is lost, the phone asks what became of it; it never sends it again.
 */

import { newId } from "../local/ids";
import { call, NoConnection, Refusal } from "../wire/call";
import type { Outcome } from "../wire/core";
import { heard, link, silent } from "./link";

export interface NowAsk {
  build: string;
  path: string; // REST path of the command, filled in, below the build
  body?: Record<string, unknown>;
  seen?: number;
  pin?: string;
  for_person?: string;
}

/** What is known after asking: an outcome, or that nothing is known yet. */
export type NowAnswer = { outcome: Outcome } | { unknown: true; id: string };

export async function now(ask: NowAsk): Promise<NowAnswer> {
  const id = newId();
  const { build, path, ...rest } = ask;
  const device_ms = Date.now() + link.value.offset_ms;
  try {
    const { body } = await call<Outcome>(
      "POST",
      `/api/builds/${build}${path}`,
      { id, device_ms, ...rest },
      { timeoutMs: 8_000 },
    );
    heard();
    return { outcome: body };
  } catch (problem) {
    if (problem instanceof Refusal) {
      heard();
      return { outcome: { id, status: "refused", problem: problem.problem } };
    }
    if (!(problem instanceof NoConnection)) throw problem;
    silent();
    return whatBecameOf(build, id);
  }
}

/** Ask a few times what became of a command whose answer was lost. */
export async function whatBecameOf(build: string, id: string, tries = 3): Promise<NowAnswer> {
  for (let attempt = 0; attempt < tries; attempt += 1) {
    await new Promise((done) => setTimeout(done, 700 * (attempt + 1)));
    try {
      const { body } = await call<Outcome>("GET", `/api/builds/${build}/outcomes/${id}`, undefined, {
        timeoutMs: 4_000,
      });
      heard();
      return { outcome: body };
    } catch (problem) {
      // Only the last time: it may still be on its way, or wait its turn.
      if (problem instanceof Refusal && problem.problem.status === 404 && attempt === tries - 1) {
        heard();
        return {
          outcome: {
            id,
            status: "refused",
            problem: {
              code: "never_arrived",
              title: "Not done",
              status: 0,
              detail: "It never arrived. Nothing was done.",
              way_on: "Press again.",
            },
          },
        };
      }
    }
  }
  return { unknown: true, id };
}
