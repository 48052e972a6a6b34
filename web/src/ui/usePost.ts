/** Ask the service for something outside the ledger (joining, PIN, limit): busy while it runs, and its problem. */

import { useState } from "preact/hooks";
import { call, NoConnection, Refusal } from "../wire/call";
import type { Problem } from "../wire/core";

const NO_LINK: Problem = {
  code: "no_connection",
  title: "Not sent",
  status: 0,
  detail: "No connection to the service.",
  way_on: "Go nearer, then press again. What you typed stays here.",
};

/** Where nothing was typed: the screen asked by itself. */
const NOT_FETCHED: Problem = { ...NO_LINK, title: "Not fetched", way_on: "Shown when connected." };

export interface Post {
  busy: boolean;
  problem: Problem | null;
  clear(): void;
  /** `onRefused` hears of a refusal beside `problem`. */
  send<T>(
    method: "GET" | "POST" | "PUT",
    path: string,
    body?: unknown,
    onRefused?: (problem: Problem) => void,
  ): Promise<T | null>;
}

export function usePost(): Post {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  return {
    busy,
    problem,
    clear: () => setProblem(null),
    async send<T>(
      method: "GET" | "POST" | "PUT",
      path: string,
      body?: unknown,
      onRefused?: (problem: Problem) => void,
    ): Promise<T | null> {
      setBusy(true);
      setProblem(null);
      try {
        return (await call<T>(method, path, body)).body;
      } catch (why) {
        if (why instanceof Refusal) {
          setProblem(why.problem);
          onRefused?.(why.problem);
        } else if (why instanceof NoConnection) setProblem(method === "GET" ? NOT_FETCHED : NO_LINK);
        else throw why;
        return null;
      } finally {
        setBusy(false);
      }
    },
  };
}
