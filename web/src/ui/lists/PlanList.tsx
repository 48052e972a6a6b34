/** The plan as a list: how far are we, what holds us up, who has what. Rows run down, tasks run right; no columns of states. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { iLead, me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { CardTag } from "../CardTag";
import { Coming } from "../days/Coming";
import { Days, DaysAfter, Finish } from "../days/Days";
import { StageWire } from "../drawings";
import { Fetching } from "../Fetching";
import { PlaceList } from "../PlaceList";
import { EmptyState, LinkButton } from "../parts";
import { capital, who } from "../words/who";
import { ToBeUndone } from "./ToBeUndone";

type PlanView = components["schemas"]["PlanView"];
type Stage = PlanView["stages"][number];

function StageRow({ stage }: { stage: Stage }): JSX.Element {
  const [open, setOpen] = useState(false);
  return (
    <StageWire
      stage={stage.stage}
      name={stage.name}
      closed={stage.closed}
      marks={stage.marks.map((mark) => ({ number: mark.task, state: mark.state }))}
      holders={stage.marks
        .filter((mark) => mark.holder && (mark.state === "taken" || mark.state === "stuck"))
        .map((mark) => `${capital(who(mark.holder, "has"))} ${mark.task}`)}
      open={open}
      onToggle={() => setOpen(!open)}
    >
      <PlaceList
        places={stage.marks.map((mark) => ({
          key: mark.task,
          word: `${mark.task} · ${mark.title}`,
          href: `/tasks/${mark.task}`,
          second: `${mark.state.replaceAll("_", " ")}${mark.holder ? `, ${nameOf(mark.holder)}` : ""}`,
        }))}
      />
    </StageWire>
  );
}

export default function PlanList(): JSX.Element {
  const answer = useView<PlanView>("/plan");
  const view = answer.data;
  const lead = iLead();
  const inForce = (stage: Stage): number => stage.marks.filter((mark) => mark.state !== "left_out").length;
  const total = view?.stages.reduce((sum, stage) => sum + inForce(stage), 0) ?? 0;
  const closed = view?.stages.reduce((sum, stage) => sum + stage.closed, 0) ?? 0;
  return (
    <>
      <AsOf at_ms={answer.at_ms} />
      {!view ? (
        <Fetching />
      ) : total === 0 ? (
        <EmptyState sentence="No plan is loaded yet.">
          {lead && <LinkButton label="Load a plan file" href="/settings" kind="act" />}
        </EmptyState>
      ) : (
        <div class="stack-wide">
          <p class="t-strong">
            {closed} of {total} closed
          </p>
          <Finish />
          <Days />
          <section class="stack" aria-label="Holding us up">
            <h2>Holding us up</h2>
            {view.holding_up.map((card) => (
              <CardTag key={card.task} card={card} lit={card.holder === me.value?.person} />
            ))}
          </section>
          <ToBeUndone />
          <section class="stack" aria-label="Stages">
            <h2>Stages</h2>
            {view.stages.map((stage) => (
              <StageRow key={stage.stage} stage={stage} />
            ))}
          </section>
          <section class="stack" aria-label="Gates">
            <h2>Gates</h2>
            <PlaceList
              places={view.gates.map((gate) => ({
                key: gate.gate,
                word: gate.name,
                href: `/gates/${gate.gate}`,
                second:
                  gate.state === "open"
                    ? "open"
                    : gate.wants === 0
                      ? "shut, nothing missing"
                      : `shut, ${gate.wants} to go`,
              }))}
            />
          </section>
          <DaysAfter />
          {lead && <Coming />}
          {view.taken.length > 0 && (
            <section class="stack" aria-label="Who has what">
              <h2>Who has what</h2>
              <PlaceList
                places={view.taken.map((card) => ({
                  key: card.task,
                  word: `${nameOf(card.holder)}: ${card.title}`,
                  href: `/tasks/${card.task}`,
                  second:
                    card.mates.length > 0
                      ? `with ${card.mates.map((person) => nameOf(person)).join(", ")}`
                      : card.task,
                }))}
              />
            </section>
          )}
        </div>
      )}
    </>
  );
}
