/** Signed work that the options, or a later plan, left out: it is on the car all the same, until somebody undoes it. */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { nameOf } from "../../app/session";
import { PlaceList } from "../PlaceList";
import { moment } from "../words/times";

export function ToBeUndone(): JSX.Element | null {
  const tasks = [...rows("task").values()]
    .filter((task) => task.to_be_undone)
    .sort((a, b) => a.order - b.order);
  if (tasks.length === 0) return null;
  return (
    <section class="stack" aria-label="To be undone">
      <h2>To be undone</h2>
      <PlaceList
        places={tasks.map(({ id, plan, signed }) => ({
          key: id,
          word: `${id}, ${plan.title}`,
          href: `/tasks/${id}`,
          second: `left out of this build${signed ? `; signed by ${nameOf(signed.by)}, ${moment(signed.at_ms)}` : ""}`,
        }))}
      />
    </section>
  );
}
