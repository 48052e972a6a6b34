/** Bags and tools: torque wrenches with the day their check runs out, tools and who has them, parts. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { iLead, me, nameOf } from "../../app/session";
import { DateSaid } from "../days/DateSaid";
import { PlaceList } from "../PlaceList";
import { Button, EmptyState, LinkButton, SwitchBar } from "../parts";
import { Screen } from "../Screen";
import { Wrenches } from "../stores/Wrenches";
import { bagOf, bagWords } from "../words/bags";
import { dayWords } from "../words/days";

function Tools(): JSX.Element {
  const tools = [...rows("tool").values()];
  if (tools.length === 0)
    return <EmptyState sentence="The tool store is empty. The plan file brings its tools." />;
  const person = me.value?.person ?? "";
  return (
    <ul class="place-list">
      {tools.map((tool) => {
        const out = Object.entries(tool.out ?? {}).filter(([, count]) => count > 0);
        const away = out.reduce((sum, [, count]) => sum + count, 0);
        return (
          <li key={tool.id} class={away >= (tool.plan.count ?? 1) ? "place-line tool-out" : "place-line"}>
            <span class="place-word">{tool.plan.name}</span>
            <span class="place-second">
              {out.length === 0 ? "on its hook" : `out: ${out.map(([who]) => nameOf(who)).join(", ")}`}
            </span>
            {tool.out?.[person] ? (
              <Button
                label="It is back"
                size={48}
                heard={`${tool.plan.name}: it is back`}
                onPress={() => void dispatch("tool.return", { tool: tool.id })}
              />
            ) : (
              <Button
                label="I take it"
                size={48}
                heard={`${tool.plan.name}: I take it`}
                onPress={() => void dispatch("tool.borrow", { tool: tool.id })}
              />
            )}
          </li>
        );
      })}
    </ul>
  );
}

function Parts(): JSX.Element {
  const parts = [...rows("part").values()];
  const lead = iLead();
  if (parts.length === 0) return <EmptyState sentence="No parts are listed. The plan file brings them." />;
  return (
    <ul class="place-list">
      {parts.map((part) => (
        <li key={part.id} class="place-line">
          <span class="place-word">{part.plan.name}</span>
          <span class="place-second">
            {part.in_stock} on the shelf, from {part.plan.source.replaceAll("_", " ")}
            {part.bag ? `, bag ${bagOf(part.bag)?.label ?? part.bag}` : ""}
            {part.plan.single_use ? ", used once" : ""}
            {part.expected_on ? `, expected ${dayWords(part.expected_on)}` : ""}
          </span>
          {lead && (
            <details class="fold">
              <summary>When it arrives</summary>
              <DateSaid
                label="Expected on"
                on={part.expected_on}
                kind="part.expect"
                about={{ part: part.id }}
                whose={part.plan.name}
                lead
              />
            </details>
          )}
        </li>
      ))}
    </ul>
  );
}

function Bags(): JSX.Element | null {
  const bags = rows("build").get("build")?.bags ?? [];
  if (bags.length === 0) return null;
  return (
    <section class="stack" aria-label="Bags">
      <h2>Bags</h2>
      <div class="row-of-buttons">
        <LinkButton label="Scan a label" href="/scan" />
        <LinkButton label="Labels to print" href="/labels" />
      </div>
      <PlaceList
        places={bags.map((bag) => ({ key: bag.id, word: bagWords(bag.id), href: `/bags/${bag.id}` }))}
      />
    </section>
  );
}

type Shelf = "wrenches" | "tools" | "parts";

export default function Stores(): JSX.Element {
  const [shelf, setShelf] = useState<Shelf>("wrenches");
  return (
    <Screen title="Bags and tools" place="stores">
      <div class="stack">
        <SwitchBar<Shelf>
          label="Which shelf"
          chosen={shelf}
          onChoose={setShelf}
          options={[
            { key: "wrenches", word: "Torque wrenches" },
            { key: "tools", word: "Tools" },
            { key: "parts", word: "Parts and bags" },
          ]}
        />
        {shelf === "wrenches" && <Wrenches />}
        {shelf === "tools" && <Tools />}
        {shelf === "parts" && (
          <>
            <Bags />
            <Parts />
          </>
        )}
      </div>
    </Screen>
  );
}
