/** What is fetched before anybody asks: the places, and all of the work in hand, for the corner without a signal. */

import { effect } from "@preact/signals";
import { link } from "../sync/link";
import { loaded, rows } from "./mirror";
import { build, me } from "./session";
import { fetchAhead } from "./views";

const PLACES = ["/queue", "/plan", "/days", "/lifts", "/loose-ends", "/gates", "/checks"];
const AFTER_MS = 3_000; // what is on the screen comes first

/** Of the tasks that whoever is at this phone holds or helps with: the task, its bolt groups, its lift. */
export function pathsInHand(person: string): string[] {
  const mine = [...rows("task").values()].filter(
    (task) =>
      task.state === "taken" &&
      (task.holder === person || task.mates?.some((mate) => mate.person === person) === true),
  );
  return mine.flatMap((task) => [
    `/tasks/${task.id}/view`,
    ...new Set(task.plan.steps.flatMap((step) => (step.group ? [`/groups/${step.group}/torque`] : []))),
    ...(task.plan.lift ? [`/lifts/${task.plan.lift}`] : []),
  ]);
}

export function keepFetchingAhead(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const here = build.value?.id;
    const person = me.value?.person;
    clearTimeout(timer);
    if (!here || !person || !loaded.value || !link.value.up) return;
    const paths = [...PLACES, ...pathsInHand(person)];
    timer = setTimeout(() => void fetchAhead(here, paths), AFTER_MS);
  });
}
