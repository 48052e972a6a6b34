/** What would make it work: each change was tried and says what it leads to. Shown to who may call the lift (R20). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Asking } from "../askNow";
import { Button, Dialog, MainButton, NoticeLine, RefusalPanel, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import type { LiftView } from "./Drawing";

type Way = LiftView["ways"][number];

interface Props {
  view: LiftView;
  asking: Asking;
}

/** A machine whose marking the plan does not tell comes with what it is marked for. */
function Marking({ view, way, asking, onClose }: Props & { way: Way; onClose: () => void }): JSX.Element {
  const [kg, setKg] = useState("");
  const wrong = kg && !readNumber(kg) ? "Type a number, such as 500." : undefined;
  return (
    <Dialog
      open
      title={way.does}
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide first onPress={onClose} />}
    >
      <div class="stack">
        <p>{way.says}</p>
        <TextField
          label="What is it marked for, in kg?"
          help={`Read it off the machine: of a boom, at the hole used; of a pair of stands, half. It must bear ${way.mark_kg} kg, and the gear with it.`}
          value={kg}
          wrong={wrong}
          onType={setKg}
        />
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        <MainButton
          label={way.kind === "marking" ? "That is its marking" : "Let it bear"}
          blocked={!kg.trim() ? "say what it is marked for" : wrong ? "type a number" : undefined}
          onPress={async () => {
            const body = { way: way.id, rated_kg: kg.trim() };
            if (await asking.ask(`/lifts/${view.id}/rearrange`, body)) onClose();
          }}
        />
      </div>
    </Dialog>
  );
}

function List({ view, asking }: Props): JSX.Element {
  const [marking, setMarking] = useState<Way | null>(null);
  return (
    <ul class="place-list">
      {view.ways.map((way) => (
        <li key={way.id} class="stack">
          <Button
            label={way.does}
            size={56}
            wide
            onPress={() => {
              if (way.mark_kg) {
                asking.clear();
                setMarking(way);
              } else void asking.ask(`/lifts/${view.id}/rearrange`, { way: way.id });
            }}
          />
          <p class="place-second">{way.says}</p>
        </li>
      ))}
      {marking && <Marking view={view} way={marking} asking={asking} onClose={() => setMarking(null)} />}
    </ul>
  );
}

/** The changes that help come before any way through. */
export function Ways({ view, asking }: Props): JSX.Element | null {
  if (!view.can.includes("lift.rearrange")) return null;
  const above = view.verdicts.some((one) => one.figure_kg === "25" && one.verdict !== "within guidance");
  if (view.ways.some((way) => way.kind === "marking")) {
    return (
      <section class="stack" aria-label="What is it marked for?">
        <h2>What is it marked for?</h2>
        <List view={view} asking={asking} />
      </section>
    );
  }
  const body = (
    <>
      {view.ways.length > 0 ? (
        <List view={view} asking={asking} />
      ) : (
        above && <p>No single change makes it work. Let machines bear it all, or take it apart.</p>
      )}
      {view.hints.map((hint) => (
        <p key={hint}>{hint}</p>
      ))}
    </>
  );
  return (
    <>
      {view.rearranged && (
        <>
          <NoticeLine>Places or markings are other than the plan has them.</NoticeLine>
          <Button
            label="As the plan has it"
            size={56}
            wide
            onPress={() => void asking.ask(`/lifts/${view.id}/rearrange`, { way: "as_planned" })}
          />
        </>
      )}
      {above ? (
        <section class="stack" aria-label="What would make it work">
          <h2>What would make it work</h2>
          {body}
        </section>
      ) : (
        view.ways.length > 0 && (
          <details class="fold">
            <summary>So that people of the 16 kg figure can lift it too</summary>
            <div class="stack">{body}</div>
          </details>
        )
      )}
    </>
  );
}
