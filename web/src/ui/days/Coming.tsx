/** Who comes when, for the lead: a strip per day with every person's hours. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { DayStrip } from "../drawings";
import { Button, EmptyState, NoticeLine } from "../parts";

const FIRST = 4;

type ComingView = components["schemas"]["ComingView"];

export function Coming(): JSX.Element | null {
  const view = useView<ComingView>("/coming").data;
  const [all, setAll] = useState(false);
  if (!view) return null;
  return (
    <section class="stack" aria-label="Who comes when">
      <h2>Who comes when</h2>
      {view.days.length === 0 && (
        <EmptyState sentence="Nobody has said yet when they can come. Each says it under Crew, own name, Hours I can come." />
      )}
      {(all ? view.days : view.days.slice(0, FIRST)).map((day) => (
        <div key={day.on} class="stack">
          <h3>{day.day}</h3>
          <DayStrip
            day={day.day}
            from_min={Math.min(...day.comes.map((one) => one.from_min))}
            to_min={Math.max(...day.comes.map((one) => one.to_min))}
            me={me.value?.person ?? undefined}
            persons={[...new Set(day.comes.map((one) => one.person))].map((person) => ({
              key: person,
              name: nameOf(person),
              blocks: day.comes
                .filter((one) => one.person === person)
                .map((one) => ({
                  label: "can come",
                  say: "can come",
                  from_min: one.from_min,
                  to_min: one.to_min,
                  state: "planned" as const,
                })),
            }))}
          />
        </div>
      ))}
      {view.days.length > FIRST && (
        <Button
          label={all ? "Only the next four days" : `Show all ${view.days.length} days`}
          onPress={() => setAll(!all)}
        />
      )}
      {view.not_said.length > 0 && view.days.length > 0 && (
        <NoticeLine>No hours yet from {view.not_said.map((person) => nameOf(person)).join(", ")}.</NoticeLine>
      )}
    </section>
  );
}
