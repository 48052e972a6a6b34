/** Why not yet, in one list; who is missing; what may not run beside it. Prepared by the service. */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { actor, nameOf, typingFor } from "../../app/session";
import { useView } from "../../app/views";
import { liftedHere, readyOnceHandedOver } from "../../app/waits";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { OutILooked } from "../Beneath";
import { NoticeLine, ONCE_HANDED_OVER, RefusalPanel, STATE_WORD, type TagState } from "../parts";
import { filled } from "../words/reason";
import type { TaskRow } from "./progress";

type TaskView = components["schemas"]["TaskView"];

/** "Bram is under the car", "You are under the car" */
function atIt({ person, at_it }: TaskView["beside"][number]): string {
  if (person !== actor.value) return `${nameOf(person)} ${at_it}`;
  return `You ${at_it.replace(/^is /, "are ").replace(/^has /, "have ")}`;
}

/** The state in the words of its tag; waiting and ready are the service's to say, the rest stands in the row. */
export function StateWord({ id }: { id: string }): JSX.Element | null {
  const task = rows("task").get(id);
  const view = useView<TaskView>(`/tasks/${id}/view`).data;
  const known: TagState | undefined =
    task?.state === "taken"
      ? task.stuck
        ? "stuck"
        : "taken"
      : task?.state === "done"
        ? "check_due"
        : task?.state === "open"
          ? view?.card.state
          : task?.state;
  if (known === "waiting" && readyOnceHandedOver(view?.waits ?? []))
    return <strong> · {ONCE_HANDED_OVER}</strong>;
  return known ? <strong> · {STATE_WORD[known]}</strong> : null;
}

/** Work that goes on has stopped here: who is missing on it, or in the garage. */
function Paused({
  saying: { says, way_on, params },
}: {
  saying: components["schemas"]["Saying"];
}): JSX.Element {
  return <RefusalPanel sentence={filled(says, params ?? {})} remedy={filled(way_on, params ?? {})} />;
}

export function Standing({ task }: { task: TaskRow }): JSX.Element | null {
  const view = useView<TaskView>(`/tasks/${task.id}/view`).data;
  if (!view)
    return link.value.up ? null : (
      <NoticeLine>What it waits for was never fetched on this phone. Its steps are as last known.</NoticeLine>
    );
  const clash = view.beside[0];
  const never = typingFor.value ? null : view.card.not_for_me;
  return (
    <>
      {never && <NoticeLine>{filled(never.says, never.params ?? {})}</NoticeLine>}
      {view.waits.length > 0 && (
        <section class="stack" aria-label={task.state === "done" ? "Not closed yet" : "Why not yet"}>
          <h2>
            {task.state === "done"
              ? "Released early: it closes after these"
              : readyOnceHandedOver(view.waits)
                ? "Ready once handed over"
                : "Not yet"}
          </h2>
          <ul class="wait-list">
            {view.waits.map((wait) => {
              const about = String(wait.params?.about ?? "");
              return (
                <li key={`${wait.code}${about}`}>
                  {wait.code === "task" ? (
                    <a href={`/tasks/${about}`}>{filled(wait.says, wait.params ?? {})}</a>
                  ) : (
                    filled(wait.says, wait.params ?? {})
                  )}
                  {liftedHere(wait) && " You signed it off: that is handed over first."}
                </li>
              );
            })}
          </ul>
        </section>
      )}
      {clash && (
        <RefusalPanel sentence={`${atIt(clash)}.`} remedy={`${clash.waits} waits until that is over.`}>
          {[...new Set(view.beside.map(({ person }) => person))].map((person) => (
            <OutILooked key={person} person={person} />
          ))}
        </RefusalPanel>
      )}
      {view.paused && <Paused saying={view.paused} />}
    </>
  );
}
