/** Who is at this phone, which build is open, and the one live exchange of it. */

import { computed, signal } from "@preact/signals";
import { fact, forgetMirror, setFact } from "../local/store";
import { hearClock, knownClock } from "../sync/clock";
import { exchange, onAnswer } from "../sync/exchange";
import { link, silent } from "../sync/link";
import { type Live, live } from "../sync/live";
import { call, NoConnection, Refusal } from "../wire/call";
import type { Me, Person, Problem } from "../wire/core";
import type { RowKinds } from "../wire/rows";
import { openMirror, row } from "./mirror";
import { shortNames } from "./shortNames";

export const me = signal<Me | null>(null);
/** Somebody without a phone for whom this one types; what is typed says so (R29). Forgotten when the app closes. */
export const typingFor = signal<string | null>(null);
/** Whose acts the work screens show and send. */
export const actor = computed(() => typingFor.value ?? me.value?.person ?? null);
/** Does whoever is at this phone lead the open build? */
export const iLead = (): boolean => row("member", me.value?.person)?.role === "lead";
/** Named for the day, and still somebody who may be: neither viewer nor under 18. */
export function isDeputy({ role, minor, deputy_until_ms: until }: RowKinds["member"]): boolean {
  return typeof until === "number" && until > serverNow() && role !== "viewer" && !minor;
}
/** A lead, or the deputy of the day: invites, opens gates, accepts what was done differently (R30). */
export const leadsToday = (person: string | null | undefined): boolean => {
  const member = row("member", person);
  return member !== undefined && (member.role === "lead" || isDeputy(member));
};
/** Whoever acts here is on the crew; a viewer looks, and is offered nothing to press (R30). */
export const iWork = (): boolean => {
  const role = row("member", actor.value)?.role;
  return role !== undefined && role !== "viewer";
};
export const iLeadToday = (): boolean => leadsToday(me.value?.person);
export const build = signal<{ id: string; name: string; role: string } | null>(null);
export const people = signal<ReadonlyMap<string, Person>>(new Map());
export const heardHead = signal(0);
/** How often something outside the ledger changed that prepared answers show. */
export const heardBeside = signal(0);
export const shutOut = signal<Problem | null>(null);
export const started = signal(false);

let running: Live | undefined;

/**
 * Ask who I am. Somebody's own phone opens on what it last knew while it asks: at the edge of the network an answer can
 * take long to fail. The shared tablet and the demo wait for it, for there the next person may be another.
 */
export async function start(): Promise<void> {
  const asked_ms = Date.now();
  const asked = call<Me>("GET", "/api/me", undefined, { timeoutMs: 6_000 }).then(async ({ body }) => {
    await hearClock(body.now_ms, asked_ms);
    return body;
  });
  asked.catch(() => undefined); // looked at below, once this phone's own database has opened
  await knownClock();
  const before = await fact<Me>("me");
  if (before?.person && !before.device_shared && before.mode !== "demo") await show(before);
  let known: Me | undefined;
  try {
    known = await asked;
    const builds = new Set(known.builds.map((one) => one.id));
    const left = before?.builds.some((one) => !builds.has(one.id));
    if (before && (before.person !== known.person || left)) await forgetMirror();
    await setFact("me", known);
  } catch (problem) {
    if (!(problem instanceof NoConnection)) throw problem;
    silent();
    if (before?.device_shared && (before.session_until_ms ?? 0) < serverNow()) {
      me.value = before;
      await signOutHere(); // opened anew, after their minute
      known = me.value;
    } else known = before;
  }
  await show(known);
}

async function show(known: Me | undefined): Promise<void> {
  const samePerson = me.value?.person === known?.person;
  if (!alike(me.value, known ?? null)) me.value = known ?? null;
  const wanted = await fact<string>("build");
  const mine = known?.builds ?? [];
  const open = mine.find((one) => one.id === wanted) ?? mine[0];
  const shown = build.value;
  const same =
    samePerson && shown?.id === open?.id && shown?.role === open?.role && shown?.name === open?.name;
  if (!open) close();
  else if (!running || !same) await openBuild(open);
  started.value = true;
}

/** Is it the same but for the service's clock? Then no screen need be drawn anew for it. */
function alike(one: Me | null, other: Me | null): boolean {
  const said = (me: Me | null) => JSON.stringify({ ...me, now_ms: 0 });
  return said(one) === said(other);
}

/** What this phone kept of the crew's goes; what it has not handed over stays (R31). */
async function putOut(problem: Problem): Promise<void> {
  shutOut.value = problem;
  running?.stop(); // it would ask again every few seconds
  running = undefined;
  await forgetMirror();
  await setFact("me", null);
  if (problem.code === "signed_out") await start(); // the garage tablet: whoever is next picks their icon
}

/** Nobody is at the shared tablet any more, and the service can't be told: it has ended their time by itself. */
export async function signOutHere(): Promise<void> {
  const here = me.value;
  if (!here) return;
  const nobody: Me = { ...here, person: null, name: null, builds: [], session_until_ms: null };
  close();
  me.value = nobody;
  await forgetMirror();
  await setFact("me", nobody);
}

function close(): void {
  running?.stop();
  running = undefined;
  build.value = null;
  shutOut.value = null;
}

export async function openBuild(which: { id: string; name: string; role: string }): Promise<void> {
  running?.stop();
  shutOut.value = null;
  heardHead.value = 0; // the other build's: a higher number would hide what comes of this one
  build.value = which;
  await setFact("build", which.id);
  const names = await fact<Person[]>(`people:${which.id}`);
  if (names) people.value = new Map(names.map((one) => [one.person, one]));
  await openMirror(which.id);
  running = live(
    which.id,
    (number) => {
      heardHead.value = number;
    },
    (why) => {
      if (why instanceof Refusal) void putOut(why.problem);
    },
    () => {
      heardBeside.value += 1;
    },
  );
  void fetchPeople();
}

/** Names are outside the ledger and its rows: fetched apart, kept for when there is no connection. */
export async function fetchPeople(): Promise<void> {
  const here = build.value;
  if (!here) return;
  try {
    const { body } = await call<Person[]>("GET", `/api/builds/${here.id}/people`);
    const before = await fact<Person[]>(`people:${here.id}`); // shown since the build was opened
    if (JSON.stringify(before) === JSON.stringify(body)) return;
    people.value = new Map(body.map((one) => [one.person, one]));
    await setFact(`people:${here.id}`, body);
  } catch (problem) {
    if (!(problem instanceof NoConnection || problem instanceof Refusal)) throw problem;
  }
}

const short = computed(() => shortNames(new Map([...people.value].map(([id, { name }]) => [id, name]))));

/** As short as the crew can tell them apart, also of whoever reads it; whom this phone does not know yet is "somebody". */
export function shortNameOf(person: string | null | undefined): string {
  return (person && short.value.get(person)) || "somebody";
}

/** The same, and "you" for whoever reads it. */
export function nameOf(person: string | null | undefined): string {
  return person && person === me.value?.person ? "you" : shortNameOf(person);
}

export function fullNameOf(person: string | null | undefined): string {
  return (person && people.value.get(person)?.name) || "somebody";
}

export function initialsOf(person: string | null | undefined): string {
  return (person && people.value.get(person)?.initials) || "?";
}

export function wake(): void {
  running?.wake();
}

/** Exchange now and wait for it: the *Send now* button. */
export async function sendNow(): Promise<boolean> {
  return build.value ? exchange(build.value.id) : false;
}

/** The service's time, as far as this phone knows it. */
export function serverNow(): number {
  return Date.now() + link.value.offset_ms;
}

let knewPeople = 0;
onAnswer(async (id, answer) => {
  if (build.value?.id !== id) return;
  if (answer.forked) heardHead.value = answer.head.number; // put back: higher ones were of the lost end
  const members = answer.rows.filter((row) => row.kind === "member").length;
  if (members && answer.head.number !== knewPeople) {
    knewPeople = answer.head.number;
    void fetchPeople();
  }
});
