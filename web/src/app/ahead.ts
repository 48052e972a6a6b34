/**
 * What is fetched before anybody asks, for the corner without a signal: the places, and all of the work in hand and of
 * what comes next, with the words and photos that were added to it.
 */

import { effect } from "@preact/signals";
import { keptView } from "../local/store";
import { link } from "../sync/link";
import type { components } from "../wire/schema";
import { head, loaded, rows } from "./mirror";
import { stoodFor } from "./payloads";
import { fetchPicture } from "./pictures";
import { build, me } from "./session";
import { fetchAhead } from "./views";

type ChecksView = components["schemas"]["ChecksView"];
type QueueView = components["schemas"]["QueueView"];

const PLACES = ["/queue", "/plan", "/days", "/lifts", "/loose-ends", "/gates", "/checks"];
const AFTER_THAT = 2;
const AFTER_MS = 3_000; // what is on the screen comes first
const AGAIN_MS = 60_000; // what was fetched less than a minute ago; a photo that is still on somebody's phone

/** The tasks that whoever is at this phone holds or helps with. */
export function tasksInHand(person: string): string[] {
  return [...rows("task").values()]
    .filter(
      (task) =>
        task.state === "taken" &&
        (task.holder === person || task.mates?.some((mate) => mate.person === person) === true),
    )
    .map((task) => task.id);
}

/**
 * What the queue offers first: to start, to go and help with, and after that; and what the sign-off of a task in hand makes ready,
 * for that may be begun without a signal.
 */
async function tasksNext(here: string, inHand: readonly string[]): Promise<string[]> {
  const queue = (await keptView(`${here}/queue`))?.body as QueueView | undefined;
  const start = queue?.start_now;
  const soon = [...inHand, ...(start ? [start.task] : [])];
  const then = (queue?.not_yet ?? []).filter(
    ({ not_for_me, waits }) =>
      !not_for_me && waits.every(({ lifted_by }) => lifted_by && soon.includes(lifted_by.task)),
  );
  return [start, queue?.help_wanted[0], ...(queue?.after_that ?? []).slice(0, AFTER_THAT), ...then].flatMap(
    (card) => (card ? [card.task] : []),
  );
}

const UNDER_WAY: readonly string[] = ["called", "crewed", "in_place", "lifting", "held"];

/** The lifts that somebody is in, or may still say yes to: few are called at a time. */
function liftsUnderWay(): string[] {
  return [...rows("lift").values()]
    .filter(({ state }) => UNDER_WAY.includes(state))
    .map(({ id }) => `/lifts/${id}`);
}

/** The bolt groups behind *Checks* that wait for whoever is at this phone: a check can be noted without a signal (R13). */
async function groupsToCheck(here: string): Promise<string[]> {
  const checks = (await keptView(`${here}/checks`))?.body as ChecksView | undefined;
  return (checks?.waiting_for_me ?? []).map(({ group }) => `/groups/${group}/torque`);
}

/** A task, its bolt groups, its lift. */
export function pathsOf(id: string): string[] {
  const plan = rows("task").get(id)?.plan;
  return [
    `/tasks/${id}/view`,
    ...new Set((plan?.steps ?? []).flatMap((step) => (step.group ? [`/groups/${step.group}/torque`] : []))),
    ...(plan?.lift ? [`/lifts/${plan.lift}`] : []),
  ];
}

/** What the entries about a task name, by payload id: free words, and photos. */
export function saidOf(id: string): { words: string[]; photos: string[] } {
  const task = rows("task").get(id);
  const deviations = [...rows("deviation").values()].filter((one) => one.task === id);
  const notes = [...rows("note").values()].filter((one) => one.about_kind === "task" && one.about === id);
  const snags = [...rows("snag").values()].filter((one) => one.task === id && !one.put_right);
  const said = [...snags, task?.stuck, task?.handover];
  const named = (ids: (string | null | undefined)[]) => ids.filter((one) => typeof one === "string");
  return {
    words: named([
      ...deviations.flatMap((one) => [one.manual_says, one.we_did, one.why]),
      ...notes.map((one) => one.text),
      ...said.map((one) => one?.note),
    ]),
    photos: named([...deviations, ...notes, ...said].map((one) => one?.photo)),
  };
}

/** Words that keep people safe where there may be no signal: the emergency card's, and what a tag keeps off. */
function safetyWords(): string[] {
  const card = rows("build").get("build")?.emergency;
  const tags = [...rows("tag").values()].filter((one) => !one.lifted_ms).map((one) => one.note);
  return [card?.address, card?.first_aid, card?.extinguishers, ...tags].flatMap((id) => (id ? [id] : []));
}

/** False when a photo is still to come, or something will be due anew. */
async function fetchAll(here: string, person: string): Promise<boolean> {
  const goOn = () => build.value?.id === here && link.value.up;
  for (const words of safetyWords()) if (goOn()) await stoodFor(here, words);
  let all = await fetchAhead(here, PLACES);
  const inHand = tasksInHand(person);
  const tasks = [...new Set([...inHand, ...(await tasksNext(here, inHand))])];
  const paths = [...tasks.flatMap(pathsOf), ...liftsUnderWay(), ...(await groupsToCheck(here))];
  if (!(await fetchAhead(here, [...new Set(paths)]))) all = false;
  const said = tasks.map(saidOf);
  for (const words of said.flatMap((one) => one.words)) if (goOn()) await stoodFor(here, words);
  for (const photo of said.flatMap((one) => one.photos)) {
    if (goOn() && !(await fetchPicture(here, photo))) all = false;
  }
  return all;
}

export function keepFetchingAhead(): void {
  let due: ReturnType<typeof setTimeout> | undefined;
  let again: ReturnType<typeof setTimeout> | undefined;

  async function fetch(): Promise<void> {
    due = undefined;
    const here = build.value?.id;
    const person = me.value?.person;
    if (!here || !person || !link.value.up) return;
    const all = await fetchAll(here, person);
    clearTimeout(again);
    if (!all) again = setTimeout(soon, AGAIN_MS);
  }

  /** Entries that go on coming in must not put it off for ever: what is due stays due. */
  function soon(): void {
    if (due === undefined) due = setTimeout(() => void fetch(), AFTER_MS);
  }

  effect(() => {
    void head.value; // each entry may bring a photo, or another task in hand
    if (build.value && me.value && loaded.value && link.value.up) soon();
  });
}
