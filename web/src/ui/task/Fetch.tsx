/** What to fetch and take along: bags by number, parts with "have you got it?", tools and where they are. */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { RowKinds } from "../../wire/rows";
import type { components } from "../../wire/schema";
import { Button } from "../parts";
import { bagWords } from "../words/bags";
import type { TaskRow } from "./progress";

type TaskView = components["schemas"]["TaskView"];

/** Heads of one thread differ, so a set is named; what the table lacks is measured. */
function Sockets({ task }: { task: TaskRow }): JSX.Element | null {
  const view = useView<TaskView>(`/tasks/${task.id}/view`).data;
  if (!view?.sockets.length) return null;
  return (
    <>
      {view.sockets.map(({ thread, sockets }) => (
        <li key={thread}>
          {sockets.length === 0 ? (
            <>
              Socket or spanner for {thread} <span class="t-dim">measure the head</span>
            </>
          ) : (
            <details class="fold">
              <summary>
                {sockets.length === 1 ? "Socket" : "Sockets"} for {thread}:{" "}
                {sockets.map((one) => one.size).join(", ")}
              </summary>
              <ul>
                {sockets.map((one) => (
                  <li key={one.size} class="t-dim">
                    {one.size}: {one.standard}
                  </li>
                ))}
              </ul>
            </details>
          )}
        </li>
      ))}
    </>
  );
}

function shelfWords({ in_stock, plan }: RowKinds["part"]): string {
  return `, ${in_stock === 0 ? "none" : in_stock} on the shelf${plan.single_use ? ", used once" : ""}`;
}

/** Whoever holds it in the hand is right, not the count: yes corrects the stock, and a task that waits for it is free (R5). */
function HaveIt(props: { task: TaskRow; part: string; word: string }): JSX.Element {
  const about = { task: props.task.id, part: props.part };
  const here = pending("task.have_part", about).at(-1)?.envelope.body.have;
  const said = typeof here === "boolean" ? here : props.task.have_parts?.[props.part];
  const answer = (have: boolean) => void dispatch("task.have_part", { ...about, have });
  return (
    <div class="have-it">
      <span>Have you got it?</span>
      <Button
        label="Yes"
        heard={`Yes, I have got ${props.word}`}
        size={48}
        chosen={said === true}
        onPress={() => answer(true)}
      />
      <Button
        label="No"
        heard={`No, I have not got ${props.word}`}
        size={48}
        chosen={said === false}
        onPress={() => answer(false)}
      />
    </div>
  );
}

export function Fetch({ task, asks }: { task: TaskRow; asks: boolean }): JSX.Element | null {
  const { plan } = task;
  const uses = plan.uses ?? [];
  const tools = plan.tools ?? [];
  const bags = plan.bags ?? [];
  const bring = plan.bring ?? [];
  const fastens = plan.steps.some((step) => step.group);
  if (uses.length + tools.length + bags.length + bring.length === 0 && !fastens) return null;
  return (
    <section class="stack" aria-label="Fetch">
      <h2>Fetch</h2>
      <ul class="fetch-list">
        {bags.map((bag) => (
          <li key={bag}>
            <a href={`/bags/${bag}`}>{bagWords(bag)}</a>
          </li>
        ))}
        {uses.map((use) => {
          const part = rows("part").get(use.part);
          const word = `${use.count === 1 ? "" : `${use.count} × `}${part?.plan.name ?? use.part}`;
          const inCar = (task.used_up ?? []).includes(use.part);
          return (
            <li key={use.part}>
              {word}
              <span class="t-dim">{inCar ? ", in the car" : part ? shelfWords(part) : ""}</span>
              {asks && !inCar && <HaveIt task={task} part={use.part} word={word} />}
            </li>
          );
        })}
        {tools.map((id) => {
          const tool = rows("tool").get(id);
          const wrench = rows("torque_wrench").get(id);
          const out = Object.entries(tool?.out ?? {}).filter(([, count]) => count > 0);
          return (
            <li key={id}>
              {tool?.plan.name ?? wrench?.name ?? id}{" "}
              {out.length > 0 && (
                <span class="t-dim">{out.map(([who]) => nameOf(who)).join(", ")} has it</span>
              )}
            </li>
          );
        })}
        <Sockets task={task} />
        {bring.map((thing) => (
          <li key={thing}>{thing}</li>
        ))}
      </ul>
    </section>
  );
}
