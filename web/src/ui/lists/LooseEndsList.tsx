/** Loose ends and gates as a list: what must be made good before it cranks? */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { pending } from "../../app/outbox";
import { me } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { Fetching } from "../Fetching";
import { Snags } from "../gates/Snags";
import { kindWord, Strip } from "../gates/Strip";
import { Tags } from "../gates/Tags";
import { Wants } from "../gates/Wants";
import { gateSentence } from "../gates/words";
import { useMend, useMendForm } from "../mending";
import { EmptyState, MainButton, NoticeLine, SwitchBar, TapeStrip } from "../parts";
import { WaitingPhoto } from "../photo/Photo";
import { ReportLoose } from "../task/Reports";

type LooseEndsView = components["schemas"]["LooseEndsView"];
type GateEnds = LooseEndsView["by_gate"][number];
type ZoneEnds = LooseEndsView["by_zone"][number];

function OfGate({ group }: { group: GateEnds }): JSX.Element {
  const gate = group.gate;
  if (!gate) {
    return (
      <section class="stack" aria-label="No gate">
        <h2>Belongs to no gate</h2>
        {group.ends.map((end) => (
          <Strip key={end.id} end={end} />
        ))}
      </section>
    );
  }
  const shut = gate.state === "shut";
  const rest = gate.wants.filter((want) => want.kind !== "loose_end");
  const before = gate.wants.length - rest.length - group.ends.length;
  return (
    <section class="stack" aria-label={gate.name}>
      <h2>
        <a class="place-line" href={`/gates/${gate.id}`}>
          {gate.name}
        </a>
      </h2>
      <p>{gateSentence(gate)}</p>
      {group.ends.map((end) => (
        <Strip key={end.id} end={end} />
      ))}
      {shut && before > 0 && (
        <p class="t-dim">{before === 1 ? "One loose end" : `${before} loose ends`} of the gates before it</p>
      )}
      {shut && rest.length > 0 && (
        <details class="fold">
          <summary>
            {rest.length === 1 ? "One condition is" : `${rest.length} conditions are`} not true yet
          </summary>
          <Wants wants={rest} />
        </details>
      )}
      {shut && gate.wants.length === 0 && !link.value.up && (
        <NoticeLine>Two people open a gate together, on the line.</NoticeLine>
      )}
    </section>
  );
}

function OfZone({ zone }: { zone: ZoneEnds }): JSX.Element {
  return (
    <section class="stack" aria-label={zone.name}>
      <h2>{zone.name}</h2>
      {zone.ends.length === 0 && <p class="t-dim">Nothing is loose in {zone.name}.</p>}
      {zone.ends.map((end) => (
        <Strip key={end.id} end={end} />
      ))}
    </section>
  );
}

export default function LooseEndsList(): JSX.Element {
  const [by, setBy] = useState<"gate" | "zone">("gate");
  const mend = useMend();
  const mends = mend?.envelope.kind === "loose.report" ? mend : undefined;
  const [report, setReport] = useMendForm(mends);
  const answer = useView<LooseEndsView>("/loose-ends");
  const view = answer.data;
  const crew = rows("member").get(me.value?.person ?? "")?.role !== "viewer";
  return (
    <>
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        {crew && <MainButton label="Dropped or left in" onPress={() => setReport(true)} />}
        {pending("loose.report").map((one) => (
          <TapeStrip
            key={one.id}
            kind={kindWord(String(one.envelope.body.kind))}
            what={String(one.envelope.body.what_text ?? "Reported by you")}
            stub="On this phone only"
            action={
              typeof one.envelope.body.photo === "string" && (
                <WaitingPhoto
                  sha256={one.envelope.body.photo}
                  about={kindWord(String(one.envelope.body.kind))}
                />
              )
            }
          />
        ))}
        <SwitchBar
          label="Sort loose ends"
          chosen={by}
          onChoose={setBy}
          options={[
            { key: "gate", word: "By gate" },
            { key: "zone", word: "By zone" },
          ]}
        />
        {!view && <Fetching sentence="Fetching the loose ends" />}
        {view?.open === 0 && <EmptyState sentence="Nothing is loose." />}
        {by === "gate" &&
          view?.by_gate.map((group) => <OfGate key={group.gate?.id ?? "none"} group={group} />)}
        {by === "zone" && view?.by_zone.map((zone) => <OfZone key={zone.zone ?? "none"} zone={zone} />)}
        <Tags />
        <Snags />
      </div>
      {report && <ReportLoose mends={mends} onClose={() => setReport(false)} />}
    </>
  );
}
