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

type QueueView = components["schemas"]["QueueView"];

const PLACES = ["/queue", "/plan", "/days", "/lifts", "/loose-ends", "/gates", "/checks"];
const AFTER_MS = 3_000; // what is on the screen comes first
const AGAIN_MS = 60_000; // a photo that is still on somebody's phone comes without any entry

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

/** What the queue offers first: to start, and to go and help with. */
async function tasksNext(here: string): Promise<string[]> {
  const queue = (await keptView(`${here}/queue`))?.body as QueueView | undefined;
  return [queue?.start_now, queue?.help_wanted[0]].flatMap((card) => (card ? [card.task] : []));
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

/** False when a photo is still to come. */
async function fetchAll(here: string, person: string): Promise<boolean> {
  const goOn = () => build.value?.id === here && link.value.up;
  for (const words of safetyWords()) if (goOn()) await stoodFor(here, words);
  await fetchAhead(here, PLACES);
  const tasks = [...new Set([...tasksInHand(person), ...(await tasksNext(here))])];
  await fetchAhead(here, tasks.flatMap(pathsOf));
  const said = tasks.map(saidOf);
  for (const words of said.flatMap((one) => one.words)) if (goOn()) await stoodFor(here, words);
  let all = true;
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
