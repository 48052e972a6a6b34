/** One way to ask the service. Tells apart: an answer, a problem (the service said no), and no connection. */

import type { Problem } from "./core";

/** The service said no; `problem` says why and what to do. */
export class Refusal extends Error {
  constructor(readonly problem: Problem) {
    super(problem.detail);
  }
}

/** No answer came: nothing is known about what became of the request. */
export class NoConnection extends Error {}

export interface Answer<T> {
  status: number;
  etag: string | null;
  body: T;
}

/** The first of these that gives up. By hand: `AbortSignal.any` is younger than many phones. */
function anyOf(signals: readonly AbortSignal[]): AbortSignal {
  const all = new AbortController();
  for (const one of signals) {
    if (one.aborted) all.abort(one.reason);
    one.addEventListener("abort", () => all.abort(one.reason), { once: true, signal: all.signal });
  }
  return all.signal;
}

let underWay = new AbortController();

/**
 * Give up whatever is being asked, so that a STOP finds a free connection: a browser opens six at most, and on a line
 * that hangs they may all be taken. What was given up counts as unanswered and is asked again by whoever needs it.
 */
export function makeWay(): void {
  underWay.abort();
  underWay = new AbortController();
}

/** A proxy's no, which says nothing about what was sent: it waits, and the person is told. */
const TOO_LARGE_ON_THE_WAY: Problem = {
  code: "too_large_on_the_way",
  title: "Not taken",
  status: 502,
  detail: "Something between this phone and the service takes nothing this large.",
  way_on: "Tell whoever runs the service: its proxy must let 12 MiB through.",
};

function isJson(response: Response): boolean {
  return (response.headers.get("Content-Type") ?? "").includes("json");
}

/** Bytes that are sent as they are, with their kind. */
export interface Raw {
  kind: string;
  bytes: ArrayBuffer;
}

function isRaw(body: unknown): body is Raw {
  return (body as Raw | undefined)?.bytes instanceof ArrayBuffer;
}

/**
 * Ask. The body goes as JSON, or as it is (`Raw`). Throws `Refusal` or `NoConnection`. A 304 answers with `body`
 * undefined. `ahead`: gives way to nothing.
 */
export async function call<T>(
  method: "GET" | "POST" | "PUT" | "DELETE",
  path: string,
  body?: unknown,
  options: { etag?: string | null; timeoutMs?: number; signal?: AbortSignal; ahead?: boolean } = {},
): Promise<Answer<T>> {
  const headers: Record<string, string> = { Accept: "application/json", "X-Yokemate": "1" };
  if (body !== undefined) headers["Content-Type"] = isRaw(body) ? body.kind : "application/json";
  if (options.etag) headers["If-None-Match"] = options.etag;
  const limit = AbortSignal.timeout(options.timeoutMs ?? 20_000);
  const given = anyOf([
    limit,
    ...(options.ahead ? [] : [underWay.signal]),
    ...(options.signal ? [options.signal] : []),
  ]);
  let response: Response;
  let text: string;
  try {
    response = await fetch(path, {
      method,
      headers,
      credentials: "same-origin",
      cache: "no-store",
      signal: given,
      ...(body === undefined ? {} : { body: isRaw(body) ? body.bytes : JSON.stringify(body) }),
    });
    text = await response.text();
  } catch (cause) {
    throw new NoConnection("no answer from the service", { cause });
  }
  if (response.status >= 502 && response.status <= 504) throw new NoConnection(`answered ${response.status}`);
  if (response.status === 304) return { status: 304, etag: options.etag ?? null, body: undefined as T };
  if (response.status === 413 && !isJson(response)) throw new Refusal(TOO_LARGE_ON_THE_WAY);
  if (!isJson(response)) throw new NoConnection("something else than the service answered");
  const data = text ? JSON.parse(text) : undefined;
  if (!response.ok) throw new Refusal({ code: "unknown", title: "Not done", detail: "", ...data });
  return { status: response.status, etag: response.headers.get("ETag"), body: data as T };
}
