/** The mirror in memory: the service's rows as signals, one per kind, filled from this phone and kept by exchanges. */

import { batch, type Signal, signal } from "@preact/signals";
import { cursorOf, type MirrorRow, mirrorOf } from "../local/store";
import type { Head, SyncAnswer } from "../wire/core";
import type { RowKinds } from "../wire/rows";

type Table = ReadonlyMap<string, Record<string, unknown>>;
const EMPTY: Table = new Map();
const tables = new Map<string, Signal<Table>>();

export const head = signal<Head | null>(null);
export const loaded = signal(false);

function table(kind: string): Signal<Table> {
  let found = tables.get(kind);
  if (!found) {
    found = signal(EMPTY);
    tables.set(kind, found);
  }
  return found;
}

/** All rows of a kind. Reading it in a component subscribes the component. */
export function rows<K extends keyof RowKinds>(kind: K): ReadonlyMap<string, RowKinds[K]> {
  return table(kind).value as unknown as ReadonlyMap<string, RowKinds[K]>;
}

export function row<K extends keyof RowKinds>(
  kind: K,
  id: string | null | undefined,
): RowKinds[K] | undefined {
  return id ? rows(kind).get(id) : undefined;
}

/** Fill the memory from what this phone keeps of a build. */
export async function openMirror(build: string): Promise<void> {
  const kept = await mirrorOf(build);
  const byKind = new Map<string, Map<string, Record<string, unknown>>>();
  for (const one of kept) group(byKind, one).set(one.id, one.body);
  const cursor = (await cursorOf(build)) ?? null;
  batch(() => {
    for (const [kind, known] of tables) if (!byKind.has(kind)) known.value = EMPTY;
    for (const [kind, map] of byKind) table(kind).value = map;
    head.value = cursor;
    loaded.value = cursor !== null;
  });
}

function group(
  byKind: Map<string, Map<string, Record<string, unknown>>>,
  one: MirrorRow,
): Map<string, Record<string, unknown>> {
  let map = byKind.get(one.kind);
  if (!map) {
    map = new Map();
    byKind.set(one.kind, map);
  }
  return map;
}

/** Take an answer into memory (it is stored on the phone already). */
export function takeInMirror(answer: SyncAnswer): void {
  const touched = new Map<string, Map<string, Record<string, unknown>>>();
  if (answer.reset) for (const known of tables.values()) known.value = EMPTY;
  for (const change of answer.rows) {
    let map = touched.get(change.kind);
    if (!map) {
      map = new Map(table(change.kind).value);
      touched.set(change.kind, map);
    }
    if (change.body === null) map.delete(change.id);
    else map.set(change.id, change.body);
  }
  batch(() => {
    for (const [kind, map] of touched) table(kind).value = map;
    if (head.peek()?.digest !== answer.head.digest) head.value = answer.head;
    loaded.value = true;
  });
}
