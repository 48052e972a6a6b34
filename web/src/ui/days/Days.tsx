/** The plan of the build days: what no longer holds, today first, a strip per person and day, lifts as joined strips. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { iLead, me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { DayStrip, FinishRange } from "../drawings";
import { namesOf } from "../lift/words";
import { PlaceList } from "../PlaceList";
import { EmptyState, NoticeLine } from "../parts";
import { moment, timeOfDay } from "../words/times";
import { capital, who } from "../words/who";
import { Replan } from "./Replan";

type DaysView = components["schemas"]["DaysView"];
type Day = DaysView["days"][number];
type Block = Day["persons"][number]["blocks"][number];
type Gate = DaysView["gates"][number];

function Gates({ gates, today }: { gates: Gate[]; today: DaysView["today"] }): JSX.Element {
  return (
    <div class="stack">
      {gates.map((gate) =>
        gate.p50 && gate.p80 ? (
          <FinishRange
            key={gate.gate}
            gate={gate.name}
            sentence={gate.sentence}
            p50={gate.p50}
            p80={gate.p80}
            today={today}
            {...(gate.wanted ? { wanted: gate.wanted } : {})}
            drivers={gate.drivers}
          />
        ) : (
          <p key={gate.gate}>
            {gate.sentence}
            {gate.late && " It comes later than wanted."}
          </p>
        ),
      )}
    </div>
  );
}

function workWords(block: Block): string {
  if (block.check) return block.hold ? `sign “${block.hold}” of ${block.title}` : `check of ${block.title}`;
  return block.hold ? `${block.title}, up to “${block.hold}”` : block.title;
}

function about(block: Block): string {
  const what = workWords(block);
  return block.company ? `in the garage, so that nobody is alone: ${what}` : what;
}

/** Who is there only so that nobody is alone; an answer that this phone kept from before does not say. */
function company(block: Block): string {
  return namesOf(block.beside ?? []);
}

function MyDay({ day }: { day: Day }): JSX.Element | null {
  const mine = day.persons.find((one) => one.person === me.value?.person);
  if (!mine) return null;
  return (
    <PlaceList
      places={mine.blocks.map((block) => ({
        key: `${block.task}-${block.from_min}-${block.check}`,
        word: `${timeOfDay(block.from_min)} to ${timeOfDay(block.to_min)} · ${about(block)}`,
        href: `/tasks/${block.task}`,
        second: [
          block.task,
          block.with_people.length > 0 ? `with ${namesOf(block.with_people)}` : "",
          company(block) ? `${company(block)} in the garage, so that nobody is alone` : "",
          block.chain ? "carries the finish" : "",
        ]
          .filter(Boolean)
          .join(" · "),
      }))}
    />
  );
}

function OneDay({ day }: { day: Day }): JSX.Element {
  const lifts = new Set(day.lifts.map((one) => `${one.task}-${one.from_min}`));
  return (
    <div class="stack">
      <h3>{day.day}</h3>
      <MyDay day={day} />
      <DayStrip
        day={day.day}
        from_min={day.from_min}
        to_min={day.to_min}
        now_min={day.now_min ?? undefined}
        persons={day.persons.map((one) => ({
          key: one.person,
          name: nameOf(one.person),
          blocks: one.blocks
            .filter((block) => block.check || block.company || !lifts.has(`${block.task}-${block.from_min}`))
            .map((block) => ({
              label: block.check ? `✓${block.task}` : block.task,
              from_min: block.from_min,
              to_min: block.to_min,
              state: block.company ? "company" : block.state,
              chain: block.chain,
            })),
        }))}
        lifts={day.lifts.map((one) => ({
          label: one.task,
          from_min: one.from_min,
          to_min: one.to_min,
          persons: one.people,
        }))}
      />
    </div>
  );
}

function said(one: DaysView["trouble"][number]): string {
  if (one.kind === "overdue") return `${one.task} should be over by now`;
  if (one.kind === "lift_over")
    return `The lift of ${one.task} was called for ${moment(one.from_ms)} and not made`;
  if (one.kind === "lift_elsewhen") {
    const called = `The lift of ${one.task} is called for ${moment(one.from_ms)}`;
    return one.planned_ms
      ? `${called}; the plan has it ${moment(one.planned_ms)}`
      : `${called}, which is not in the plan`;
  }
  if (one.kind === "part_late") return `${one.part} comes after ${one.task}, ${moment(one.from_ms)}`;
  if (one.kind === "fresh_eyes")
    return capital(
      `${who(one.person, "was")} at ${one.task}; its check needs fresh eyes, ${moment(one.from_ms)}`,
    );
  if (one.kind === "no_date") return `No date for ${one.part}, which ${one.task} waits for`;
  return capital(`${nameOf(one.person)} can't come to ${one.task}, ${moment(one.from_ms)}`);
}

function Troubles({ trouble }: { trouble: DaysView["trouble"] }): JSX.Element | null {
  if (trouble.length === 0) return null;
  return (
    <section class="stack" aria-label="What no longer holds">
      <h3>What no longer holds</h3>
      <ul class="place-list">
        {trouble.slice(0, 8).map((one) => (
          <li
            key={`${one.task}-${one.check}-${one.person ?? one.part ?? ""}-${one.from_ms}`}
            class="place-line"
          >
            <span class="place-word">{said(one)}</span>
            <span class="place-second">
              {one.check ? "check of " : ""}
              {one.title}
            </span>
          </li>
        ))}
      </ul>
      {trouble.length > 8 && <NoticeLine>And {trouble.length - 8} more. Re-plan to mend them.</NoticeLine>}
    </section>
  );
}

/** The next gate as a range of dates, first of all; the others and all work folded. */
export function Finish(): JSX.Element | null {
  const view = useView<DaysView>("/days").data;
  const ranges = [...(view?.gates ?? []), ...(view?.all_work ? [view.all_work] : [])];
  if (!view || ranges.length === 0) return null;
  return (
    <section class="stack" aria-label="When">
      <Gates gates={ranges.slice(0, 1)} today={view.today} />
      {ranges.length > 1 && (
        <details class="fold">
          <summary>Every gate and all work</summary>
          <Gates gates={ranges.slice(1)} today={view.today} />
        </details>
      )}
    </section>
  );
}

export function Days(): JSX.Element | null {
  const view = useView<DaysView>("/days").data;
  const plans = iLead();
  if (!view) return null;
  return (
    <section class="stack" aria-label="Build days">
      <h2>Build days</h2>
      {view.taken_ms === null || view.taken_ms === undefined ? (
        <EmptyState
          sentence={
            plans
              ? "No plan of the days yet. Each says the hours they can come, then press Re-plan."
              : "No plan of the days yet. The lead makes it from the hours that each can come."
          }
        />
      ) : (
        <>
          <NoticeLine>
            Plan taken by {nameOf(view.taken_by)}, {moment(view.taken_ms)}. By it all work ends{" "}
            {view.finish?.word}.
          </NoticeLine>
          <Troubles trouble={view.trouble} />
        </>
      )}
      {plans && <Replan />}
      {view.days.slice(0, 1).map((day) => (
        <OneDay key={day.on} day={day} />
      ))}
      {view.unplaced.length > 0 && (
        <NoticeLine>
          No place found for {view.unplaced.join(", ")} in the hours that were given. Re-plan says why.
        </NoticeLine>
      )}
    </section>
  );
}

/** The days behind the first, made when they are opened: each is a long drawing. */
export function DaysAfter(): JSX.Element | null {
  const view = useView<DaysView>("/days").data;
  const [open, setOpen] = useState(false);
  const after = view?.days.slice(1) ?? [];
  if (after.length === 0) return null;
  return (
    <details class="fold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Build days after that: {after.length}</summary>
      <div class="stack-wide">{open && after.map((day) => <OneDay key={day.on} day={day} />)}</div>
    </details>
  );
}
