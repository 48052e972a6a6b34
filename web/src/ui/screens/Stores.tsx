/** Bags and tools: torque wrenches with the day their check runs out, tools and who has them, parts. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch } from "../../app/outbox";
import { iLead, me, nameOf } from "../../app/session";
import type { RowKinds } from "../../wire/rows";
import { DateSaid } from "../days/DateSaid";
import { Button, EmptyState, SwitchBar } from "../parts";
import { Screen } from "../Screen";
import { dayWords } from "../words/days";
import { age, moment } from "../words/times";
import { unitWord } from "../words/units";

type Wrench = RowKinds["torque_wrench"];
const MONTH_MS = 30 * 24 * 3600_000;

function standing(wrench: Wrench, now: number): string {
  if (wrench.retired) return "retired";
  const checks = [...(wrench.checks ?? [])].sort((a, b) => b.at_ms - a.at_ms);
  const last = checks[0];
  if (wrench.dropped_ms && (!last || last.at_ms < wrench.dropped_ms))
    return "dropped: unfit until it is checked";
  if (!last) return "never checked: does not count for a critical group";
  if (!last.good) return "failed its last check";
  const kind = last.kind === "house_check" ? "house check" : "certificate";
  if (last.until_ms < now)
    return `${kind} ran out ${age(now - last.until_ms)} ago: does not count for a critical group`;
  return `${kind} holds until ${moment(last.until_ms)}`;
}

function Wrenches(): JSX.Element {
  const [open, setOpen] = useState<string | null>(null);
  const mine = rows("member").get(me.value?.person ?? "");
  const builder = mine?.role === "lead" || mine?.role === "builder";
  const wrenches = [...rows("torque_wrench").values()];
  if (wrenches.length === 0)
    return <EmptyState sentence="No torque wrench is entered yet. The plan file brings them." />;
  return (
    <ul class="place-list">
      {wrenches.map((wrench) => (
        <li key={wrench.id} class="place-line">
          <span class="place-word">
            {wrench.id} · {wrench.name}
          </span>
          <span class="place-second">
            {wrench.plan.lowest} to {wrench.plan.highest} {unitWord(wrench.plan.unit)}, {wrench.plan.shows}
          </span>
          <span class="place-second">{standing(wrench, Date.now())}</span>
          {open === wrench.id ? (
            <div class="row-of-buttons">
              <Button
                label="It was dropped"
                onPress={() => void dispatch("wrench.dropped", { wrench: wrench.id })}
              />
              {builder && (
                <>
                  <Button
                    label="House check: good"
                    onPress={() =>
                      void dispatch("wrench.check", {
                        wrench: wrench.id,
                        kind: "house_check",
                        checked_ms: Date.now(),
                        good: true,
                        until_ms: Date.now() + MONTH_MS,
                      })
                    }
                  />
                  <Button
                    label="House check: not good"
                    onPress={() =>
                      void dispatch("wrench.check", {
                        wrench: wrench.id,
                        kind: "house_check",
                        checked_ms: Date.now(),
                        good: false,
                        until_ms: Date.now(),
                      })
                    }
                  />
                </>
              )}
              <Button label="Close" kind="quiet" onPress={() => setOpen(null)} />
            </div>
          ) : (
            <Button
              label="More"
              size={48}
              heard={`More about ${wrench.name}`}
              onPress={() => setOpen(wrench.id)}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

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
            {part.bag ? `, bag ${part.bag}` : ""}
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
        {shelf === "parts" && <Parts />}
      </div>
    </Screen>
  );
}
