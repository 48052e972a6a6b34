/**
 * Prepared answers (GET with ETag), kept on this phone so that every screen opens without a connection.
 * A view is asked again when the head moves, when its window ends, and when the link is back.
 *
 * An answer is for whoever asked: at the shared tablet the next person sees nothing of it, and one that was under way when
 * they went is neither shown nor kept (R31).
 */

import { computed, effect, type Signal, signal, untracked } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { keepView, keptView } from "../local/store";
import { heard, link, silent } from "../sync/link";
import { call, NoConnection, Refusal } from "../wire/call";
import type { Problem } from "../wire/core";
import { head } from "./mirror";
import { build, heardBeside, heardHead, me, serverNow, shutOut } from "./session";

export interface Seen<T> {
  data: T | null;
  at_ms: number | null; // when this phone got it
  problem: Problem | null;
  loading: boolean;
}

interface Window {
  valid_until_ms?: number | null;
}

const TOGETHER_MS = 5_000;

/** What an answer depends on, as far as this phone has heard of it. */
function whatIsKnown(): string {
  return `${Math.max(head.value?.number ?? 0, heardHead.value)} ${heardBeside.value}`;
}

class Watched<T> {
  readonly seen: Signal<Seen<T>> = signal<Seen<T>>({ data: null, at_ms: null, problem: null, loading: true });
  private etag: string | null = null;
  private asked = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private stopEffect: (() => void) | undefined;
  private users = 0;
  private last = { of: "", at_ms: 0 };

  constructor(
    private readonly person: string | null | undefined,
    private readonly buildId: string,
    private readonly path: string,
  ) {}

  private get theirs(): boolean {
    return me.peek()?.person === this.person && shutOut.peek() === null;
  }

  use(): () => void {
    this.users += 1;
    if (this.users === 1) {
      this.last = { of: "", at_ms: 0 }; // whoever comes to a screen asks
      void this.fromPhone();
      this.stopEffect = effect(() => {
        void this.askOf(`${whatIsKnown()} ${link.value.up}`);
      });
    }
    return () => {
      this.users -= 1;
      if (this.users === 0) {
        this.stopEffect?.();
        clearTimeout(this.timer);
      }
    };
  }

  /** The stream, an exchange and the link say the same within a moment when a screen opens: one question is enough. */
  private async askOf(known: string): Promise<void> {
    const now = Date.now();
    if (this.last.of === known && now - this.last.at_ms < TOGETHER_MS) return;
    this.last = { of: known, at_ms: now };
    await this.ask();
  }

  private async fromPhone(): Promise<void> {
    const kept = await keptView(this.address);
    if (kept && this.seen.peek().data === null) {
      this.etag = kept.etag;
      this.seen.value = { data: kept.body as T, at_ms: kept.at_ms, problem: null, loading: false };
    }
  }

  private get address(): string {
    return `${this.buildId}${this.path}`;
  }

  async ask(): Promise<void> {
    if (this.asked) return; // one at a time; the head that came meanwhile asks again below
    this.asked = true;
    const known = untracked(whatIsKnown);
    if (this.etag === null) await this.fromPhone();
    try {
      const answer = await call<T>("GET", `/api/builds/${this.buildId}${this.path}`, undefined, {
        etag: this.etag,
      });
      heard();
      if (!this.theirs) return;
      const at_ms = Date.now();
      if (answer.status !== 304) this.etag = answer.etag;
      const data = answer.status === 304 ? this.seen.peek().data : answer.body;
      this.seen.value = { data, at_ms, problem: null, loading: false };
      await keepView({ address: this.address, etag: this.etag, at_ms, known, body: data });
      this.atWindowEnd((data as Window | null)?.valid_until_ms);
    } catch (problem) {
      if (problem instanceof Refusal) {
        heard();
        this.seen.value = { ...this.seen.peek(), problem: problem.problem, loading: false };
      } else if (problem instanceof NoConnection) {
        silent();
        this.seen.value = { ...this.seen.peek(), loading: false };
      } else throw problem;
    } finally {
      this.asked = false;
    }
    if (untracked(whatIsKnown) !== known && this.users > 0 && this.theirs) void this.ask();
  }

  private atWindowEnd(until: number | null | undefined): void {
    clearTimeout(this.timer);
    if (until && this.users > 0) {
      const wait = Math.min(Math.max(until - serverNow() + 50, 250), 3_600_000);
      this.timer = setTimeout(() => void this.ask(), wait);
    }
  }
}

const watched = new Map<string, Watched<unknown>>();

const atThisPhone = computed(() => me.value?.person);
effect(() => {
  void atThisPhone.value;
  watched.clear();
});

function watch<T>(id: string, path: string): Watched<T> {
  const key = `${id}${path}`;
  let found = watched.get(key) as Watched<T> | undefined;
  if (!found) {
    found = new Watched<T>(me.peek()?.person, id, path);
    watched.set(key, found as Watched<unknown>);
  }
  return found;
}

const RENEW_MS = 60_000;

/**
 * Fetch what this phone never had, and anew what may have changed since, one after the other, so that these screens
 * open without a connection. While the crew is at work the head moves all the time: nothing is fetched anew before a
 * minute is over. Answers false when some of it will be due by then.
 */
export async function fetchAhead(id: string, paths: readonly string[]): Promise<boolean> {
  let all = true;
  for (const path of paths) {
    if (build.value?.id !== id || !link.value.up) return all;
    const kept = await keptView(`${id}${path}`);
    if (kept && kept.known === whatIsKnown() && !isOver(kept.body as Window)) continue;
    if (kept && Date.now() - kept.at_ms < RENEW_MS) all = false;
    else await watch(id, path).ask();
  }
  return all;
}

function isOver({ valid_until_ms }: Window): boolean {
  return typeof valid_until_ms === "number" && valid_until_ms <= serverNow();
}

/** A prepared answer for the open build, live. `path` null: nothing is asked. */
export function useView<T>(path: string | null): Seen<T> {
  const id = build.value?.id;
  const person = atThisPhone.value;
  const one = useMemo(() => {
    if (!id || path === null) return undefined;
    return watch<T>(id, path);
  }, [id, path, person]);
  useEffect(() => one?.use(), [one]);
  return one ? one.seen.value : { data: null, at_ms: null, problem: null, loading: false };
}
