/** A gate: what it still wants, then two people open it. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import {
  Button,
  EmptyState,
  LoadingTags,
  MainButton,
  NoticeLine,
  RefusalPanel,
  SignalPanel,
  Tick,
} from "../parts";
import { AsOf, Screen } from "../Screen";
import { moment } from "../words/times";

type GatesView = components["schemas"]["GatesView"];
type Want = components["schemas"]["GateWant"];

function wantWords(want: Want): { words: string; href: string | null } {
  const params = (want.params ?? {}) as Record<string, unknown>;
  if (want.kind === "task_open")
    return {
      words: `${want.about} is not closed${params.title ? `: ${String(params.title)}` : ""}`,
      href: `/tasks/${want.about}`,
    };
  if (want.kind === "loose_end")
    return {
      words: `Loose: ${String(params.what ?? want.about)}`,
      href: params.task ? `/tasks/${String(params.task)}` : "/loose-ends",
    };
  if (want.kind === "gate_shut")
    return {
      words: `The gate before it is shut: ${String(params.gate ?? params.name ?? want.about)}`,
      href: `/gates/${want.about}`,
    };
  if (want.kind === "check_missing")
    return {
      words: `A countersign is missing: ${String(params.name ?? params.group ?? want.about)}`,
      href: `/checks/${want.about}`,
    };
  if (want.kind === "lag")
    return {
      words: `${String(params.title ?? want.about)}: the wait after it ${params.until_ms ? `lasts until ${moment(Number(params.until_ms))}` : "has not begun"}`,
      href: `/tasks/${want.about}`,
    };
  return { words: `${want.about} is built on undone work`, href: `/tasks/${want.about}` };
}

export default function Gate({ id }: { id: string }): JSX.Element {
  const answer = useView<GatesView>("/gates");
  const [said, setSaid] = useState<string[]>([]);
  const asking = useNow();
  const view = answer.data;
  const gate = view?.gates.find((one) => one.id === id);
  if (!view || !gate) {
    return (
      <Screen title="Gate" place="loose-ends">
        {view ? <EmptyState sentence="There is no such gate in this build." /> : <LoadingTags />}
      </Screen>
    );
  }
  const missing = gate.on_the_day.filter((line) => !said.includes(line));
  const opening = gate.opening;
  const mine = opening?.by === me.value?.person;
  return (
    <Screen title={gate.name} place="loose-ends">
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        {gate.stop_engine && (
          <SignalPanel
            word="danger"
            what="Stop the engine."
            does="Something this gate stood on is no longer true."
            how="Engine off, key out, then look at the list."
          />
        )}
        {gate.state === "open" ? (
          <p class="t-strong">
            Open. {gate.opened_by.map((one) => nameOf(one)).join(" and ")}
            {gate.opened_ms ? `, ${moment(gate.opened_ms)}` : ""}
          </p>
        ) : (
          <p class="t-strong">
            {gate.wants.length === 0
              ? "Shut. Nothing is missing."
              : `${gate.name} stays shut: ${gate.wants.length} to go`}
          </p>
        )}
        {gate.state === "shut" && gate.wants.length > 0 && (
          <ul class="place-list">
            {gate.wants.map((want) => {
              const { words, href } = wantWords(want);
              return (
                <li key={`${want.kind}${want.about}`}>
                  {href ? (
                    <a class="place-line" href={href}>
                      <span class="place-word">{words}</span>
                    </a>
                  ) : (
                    <span class="place-line">{words}</span>
                  )}
                </li>
              );
            })}
          </ul>
        )}
        {gate.state === "shut" && gate.wants.length === 0 && !opening && gate.i_may_propose && (
          <>
            <h2>On the day</h2>
            {gate.on_the_day.map((line) => (
              <Tick
                key={line}
                word={line}
                ticked={said.includes(line)}
                onTick={(on) => setSaid(on ? [...said, line] : said.filter((one) => one !== line))}
              />
            ))}
            <NoticeLine>
              Yokemate shows its list; it does not say that the car is fit to run. The kit's manual and the
              one who knows the car come first.
            </NoticeLine>
            <MainButton
              label="Open the gate"
              blocked={
                !link.value.up
                  ? "two people open a gate together, on the line"
                  : missing.length > 0
                    ? `${missing.length} not said yet`
                    : asking.busy
                      ? "one moment"
                      : undefined
              }
              onPress={() => void asking.ask(`/gates/${id}/propose`, { confirmed: said }, { seen: true })}
            />
          </>
        )}
        {gate.state === "shut" && gate.wants.length === 0 && !opening && !gate.i_may_propose && (
          <NoticeLine>A lead or today's deputy opens it, with a second adult who may countersign.</NoticeLine>
        )}
        {opening && (
          <>
            <p>
              {nameOf(opening.by)} says that every condition is true
              {opening.until_ms ? `. It holds until ${moment(opening.until_ms)}` : ""}.
            </p>
            <ul>
              {gate.on_the_day.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
            <MainButton
              label={mine ? "Open it with a second person" : `Open it with ${nameOf(opening.by)}`}
              blocked={
                mine
                  ? "on their own phone"
                  : opening.i_may_second
                    ? !link.value.up
                      ? "two people open a gate together, on the line"
                      : asking.busy
                        ? "one moment"
                        : undefined
                    : "somebody who may countersign opens it"
              }
              onPress={() => void asking.ask(`/proposals/${opening.proposal}/second`, {}, { seen: true })}
            />
            {mine && (
              <Button
                label="Take it back"
                onPress={() => void dispatch("two.withdraw", { proposal: opening.proposal })}
              />
            )}
          </>
        )}
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        {gate.guards.length > 0 && <p class="t-dim">Waits behind it: {gate.guards.join(", ")}</p>}
      </div>
    </Screen>
  );
}
