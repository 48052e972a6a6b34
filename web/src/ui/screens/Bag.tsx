/** *What is in this bag, and what is it for?* Opened by its label. */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { EmptyState } from "../parts";
import { Screen } from "../Screen";
import { StateWord } from "../task/Standing";
import { bagOf, bagWords, tasksWith } from "../words/bags";

export default function Bag({ id }: { id: string }): JSX.Element {
  const bag = bagOf(id);
  if (!bag) {
    return (
      <Screen title="No such bag" place="stores">
        <EmptyState sentence={`The plan knows no bag ${id}. Ask the lead, or look under Bags and tools.`} />
      </Screen>
    );
  }
  const tasks = tasksWith(id);
  const holds = bag.holds ?? [];
  return (
    <Screen title={bagWords(id)} place="stores">
      <div class="stack">
        <section class="stack" aria-label="In it">
          <h2>In it</h2>
          {holds.length === 0 ? (
            <p class="t-dim">The plan lists nothing by name.</p>
          ) : (
            <ul class="fetch-list">
              {holds.map((one) => (
                <li key={one.part}>
                  {one.count === 1 ? "" : `${one.count} × `}
                  {rows("part").get(one.part)?.plan.name ?? one.part}
                </li>
              ))}
            </ul>
          )}
        </section>
        <section class="stack" aria-label="For these tasks">
          <h2>For these tasks</h2>
          {tasks.length === 0 ? (
            <p class="t-dim">No task of the plan asks for it.</p>
          ) : (
            <ul class="place-list">
              {tasks.map((task) => (
                <li key={task.id}>
                  <a class="place-line" href={`/tasks/${task.id}`}>
                    <span class="place-word">{task.plan.title}</span>
                    <span class="place-second">
                      {task.id}
                      <StateWord id={task.id} />
                    </span>
                  </a>
                </li>
              ))}
            </ul>
          )}
        </section>
      </div>
    </Screen>
  );
}
