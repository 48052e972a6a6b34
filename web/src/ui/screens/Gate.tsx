/** A gate: what it still wants, then two people open it (R25). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { iLead, me, nameOf, shortNameOf } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { useNow } from "../askNow";
import { DateSaid } from "../days/DateSaid";
import { Fetching } from "../Fetching";
import { SecondIt } from "../gates/Second";
import { Wants } from "../gates/Wants";
import { type GateView, gateSentence } from "../gates/words";
import { Button, EmptyState, MainButton, NoticeLine, RefusalPanel, Stub, Tick } from "../parts";
import { Screen } from "../Screen";
import { moment } from "../words/times";

type GatesView = components["schemas"]["GatesView"];
const ENGINE_GATES = ["first_crank", "first_start"];

/** The first of two: says of each condition of the day that it is so, then proposes. */
function Propose({ gate }: { gate: GateView }): JSX.Element {
  const [said, setSaid] = useState<string[]>([]);
  const asking = useNow();
  const missing = gate.on_the_day.filter((line) => !said.includes(line)).length;
  return (
    <section class="stack" aria-label="On the day">
      <h2>On the day</h2>
      <p>Look at each, then say that it is so.</p>
      {gate.on_the_day.map((line) => (
        <Tick
          key={line}
          word={line}
          ticked={said.includes(line)}
          onTick={(on) => setSaid(on ? [...said, line] : said.filter((one) => one !== line))}
        />
      ))}
      <NoticeLine>
        This is the list that the plan gives; it is not a word about the car. The kit's manual and the one who
        knows the car come first.
      </NoticeLine>
      {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
      <MainButton
        label="Open the gate"
        blocked={
          !link.value.up
            ? "two people open a gate together, on the line"
            : missing > 0
              ? `${missing} not said yet`
              : asking.busy
                ? "one moment"
                : undefined
        }
        onPress={() => void asking.ask(`/gates/${gate.id}/propose`, { confirmed: said }, { seen: true })}
      />
    </section>
  );
}

/** One has said it; the second looks at the same list and opens it with them. */
function Opening({ gate }: { gate: GateView }): JSX.Element | null {
  const opening = gate.opening;
  if (!opening) return null;
  const mine = opening.by === me.value?.person;
  return (
    <section class="stack" aria-label="A second person">
      <p class="t-strong">
        {mine ? "You say" : `${nameOf(opening.by)} says`} that each of these is so
        {opening.until_ms ? `. It holds until ${moment(opening.until_ms)}` : ""}.
      </p>
      <ul class="briefing">
        {gate.on_the_day.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {mine && <p>Now somebody else, who may countersign, looks at it and opens it with you.</p>}
      {!mine && !opening.i_may_second && (
        <NoticeLine>Somebody who may countersign opens it with {nameOf(opening.by)}.</NoticeLine>
      )}
      <SecondIt
        proposal={opening.proposal}
        by={opening.by}
        label={mine ? `Open it with ${shortNameOf(me.value?.person)}` : `Open it with ${nameOf(opening.by)}`}
        countersigner
        mayHere={!mine && opening.i_may_second}
      />
      {mine && (
        <Button
          label="Take it back"
          size={56}
          wide
          onPress={() => void dispatch("two.withdraw", { proposal: opening.proposal })}
        />
      )}
    </section>
  );
}

/** Whoever hears the engine says so: work and gates depend on it (R25, R27). */
function Engine({ running }: { running: boolean }): JSX.Element | null {
  if (rows("member").get(me.value?.person ?? "")?.role === "viewer") return null;
  const waits = pending("engine.say").length > 0;
  return (
    <section class="stack" aria-label="Engine">
      <h2>Engine</h2>
      <p>{running ? "Somebody said that it runs." : "It is said to be off."}</p>
      {waits && <Stub word="Said, on this phone only" />}
      <Button
        label={running ? "The engine is off" : "The engine is running"}
        size={56}
        wide
        onPress={() => void dispatch("engine.say", { running: !running })}
      />
    </section>
  );
}

export default function Gate({ id }: { id: string }): JSX.Element {
  const answer = useView<GatesView>("/gates");
  const view = answer.data;
  const gate = view?.gates.find((one) => one.id === id);
  if (!view || !gate) {
    return (
      <Screen opened title="Gate" place="loose-ends">
        {view ? <EmptyState sentence="There is no such gate in this build." /> : <Fetching />}
      </Screen>
    );
  }
  const ready = gate.state === "shut" && gate.wants.length === 0;
  return (
    <Screen opened title={gate.name} place="loose-ends">
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        <p class="t-strong" role="status">
          {gateSentence(gate)}
        </p>
        {gate.state === "shut" && gate.shut_ms && (
          <p>It was open and shut again, {moment(gate.shut_ms)}: something it stood on was no longer true.</p>
        )}
        {gate.state === "shut" && <Wants wants={gate.wants} />}
        {ready && !gate.opening && gate.i_may_propose && <Propose key={gate.id} gate={gate} />}
        {ready && !gate.opening && !gate.i_may_propose && (
          <NoticeLine>A lead or today's deputy opens it, with a second adult who may countersign.</NoticeLine>
        )}
        {ready && <Opening gate={gate} />}
        {!ready && gate.state === "shut" && gate.on_the_day.length > 0 && (
          <details class="fold">
            <summary>Asked on the day</summary>
            <ul class="briefing">
              {gate.on_the_day.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </details>
        )}
        {gate.state === "shut" && (
          <DateSaid
            label="Wanted by"
            on={rows("gate").get(id)?.wanted_on}
            kind="gate.want"
            about={{ gate: id }}
            whose={gate.name}
            lead={iLead()}
          />
        )}
        {gate.guards.length > 0 && <p class="t-dim">Waits behind it: {gate.guards.join(", ")}</p>}
        {ENGINE_GATES.includes(gate.kind) && <Engine running={view.engine === "running"} />}
        <a class="place-line" href="/loose-ends">
          <span class="place-word">All loose ends and gates</span>
        </a>
      </div>
    </Screen>
  );
}
