/** All that was found wrong and is not put right yet; on its task's own screen nobody looks once that is closed. */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { SnagLine } from "../task/SnagLine";

function Where({ task, group }: { task?: string | null; group?: string | null }): JSX.Element | null {
  const on = rows("task").get(task ?? "");
  const bolts = rows("group").get(group ?? "");
  if (on) return <a href={`/tasks/${on.id}`}>{`${on.id} · ${on.plan.title}`}</a>;
  return bolts ? <a href={`/groups/${bolts.id}`}>{bolts.plan.name}</a> : null;
}

export function Snags(): JSX.Element | null {
  const open = [...rows("snag").values()].filter((one) => !one.put_right);
  if (open.length === 0) return null;
  return (
    <section class="stack" aria-label="Snags">
      <h2>Snags</h2>
      {open
        .sort((a, b) => a.at_ms - b.at_ms)
        .map((one, index) => (
          <SnagLine
            key={one.id}
            one={one}
            number={index + 1}
            where={<Where task={one.task ?? null} group={one.group ?? null} />}
          />
        ))}
    </section>
  );
}
