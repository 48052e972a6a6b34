/** The queue as a list: what do I do now, and why that? One main button, on its tag. */

import type { ComponentChildren, JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, letGo, refusals } from "../../app/outbox";
import { isIn } from "../../app/presence";
import { actor, fullNameOf, iLead, nameOf, typingFor } from "../../app/session";
import { useView } from "../../app/views";
import { link } from "../../sync/link";
import { AsOf } from "../AsOf";
import { CardTag, nextWords } from "../CardTag";
import { Fetching } from "../Fetching";
import { go } from "../go";
import { type PlaceLine, PlaceList } from "../PlaceList";
import { Button, EmptyState, LinkButton, MainButton, NoticeLine, RefusalPanel } from "../parts";
import { joinsAs, joinWords } from "../task/joining";
import { some } from "../words/counts";
import { holdPlace } from "../words/holds";
import { moment } from "../words/times";
import { atHand, type Card, type QueueView } from "./atHand";
import { InTurns } from "./InTurns";
import { byReason } from "./notYet";
import { ToBeUndone } from "./ToBeUndone";

function Part({ title, children }: { title: string; children: ComponentChildren }): JSX.Element {
  return (
    <section class="stack" aria-label={title}>
      <h2>{title}</h2>
      {children}
    </section>
  );
}

/** What was unfolded stays so while its tasks are opened beside it, one after the other. */
const unfolded = new Set<string>();

/** What is in it is made when it is opened: it is most of a build's tasks. */
function Folded(props: {
  /** Where it lies, of all that can be unfolded. */
  at: string;
  title: string;
  count: number;
  inside: () => ComponentChildren;
}): JSX.Element | null {
  const { at, title, count, inside } = props;
  const [open, setOpen] = useState(() => unfolded.has(at));
  if (count === 0) return null;
  return (
    <details
      open={open}
      onToggle={({ currentTarget }) => {
        setOpen(currentTarget.open);
        if (currentTarget.open) unfolded.add(at);
        else unfolded.delete(at);
      }}
    >
      <summary>
        {title}: {count}
      </summary>
      <div class="stack">{open && inside()}</div>
    </details>
  );
}

function tags(cards: readonly Card[]): JSX.Element[] {
  return cards.map((card) => <CardTag key={card.task} card={card} />);
}

/** By reason, with counts: each opens on a tap. */
function Reasons({ cards }: { cards: readonly Card[] }): JSX.Element {
  return (
    <>
      {byReason(cards).map((reason) => (
        <Folded
          key={reason.key}
          at={`not yet ${reason.key}`}
          title={reason.words}
          count={reason.cards.length}
          inside={() => tags(reason.cards)}
        />
      ))}
    </>
  );
}

function Refused(): JSX.Element {
  const takes = refusals.value.filter(({ envelope }) => envelope.kind.startsWith("task.take"));
  return (
    <>
      {takes.map((one) => (
        <RefusalPanel
          key={one.id}
          sentence={one.problem?.detail ?? "It was refused."}
          remedy={one.problem?.way_on}
        >
          <Button label="Let it go" size={48} onPress={() => void letGo(one.id)} />
        </RefusalPanel>
      ))}
    </>
  );
}

function Take({ card, main, mine }: { card: Card; main: boolean; mine: boolean }): JSX.Element {
  const label = link.value.up ? "Take it" : "Ask for it";
  const heard = `${label}: ${card.title}`;
  const take = () => {
    void dispatch("task.take", { task: card.task });
    go(`/tasks/${card.task}`);
  };
  return (
    <CardTag
      card={card}
      action={
        !mine ? undefined : main ? (
          <MainButton label={label} heard={heard} onPress={take} />
        ) : (
          <Button label={label} heard={heard} onPress={take} />
        )
      }
    />
  );
}

function Help({ card, main, mine }: { card: Card; main: boolean; mine: boolean }): JSX.Element {
  const task = rows("task").get(card.task);
  const me = rows("member").get(actor.value ?? "");
  const as = (task && me && joinsAs(task, me)) ?? "hand";
  const holder = nameOf(card.holder);
  const words = as === "watcher" ? joinWords(as, holder) : `Go and help ${holder}`;
  const join = () => {
    void dispatch("task.join", { task: card.task, learner: as !== "hand" });
    go(`/tasks/${card.task}`);
  };
  return (
    <CardTag
      card={card}
      action={
        !mine ? undefined : main ? (
          <MainButton label={words} onPress={join} />
        ) : (
          <Button label={words} onPress={join} />
        )
      }
    />
  );
}

/** Where what was done differently is looked at: on its task, or its bolts where a reading had none. */
function differentlyPlace(one: NonNullable<QueueView["differently"]>[number]): PlaceLine {
  return {
    key: one.deviation,
    word: `${one.title}${one.critical ? " · critical" : ""}`,
    second: `${one.task ? `${one.task}, ` : ""}${nameOf(one.by)}, ${moment(one.at_ms)}`,
    href: one.task ? `/tasks/${one.task}` : `/groups/${one.group}`,
  };
}

/** What is said where there is nothing to start: what waits and whom to ask, or that there is no plan yet. */
function Nothing({ view }: { view: ReturnType<typeof atHand> }): JSX.Element {
  if (rows("task").size === 0) {
    return iLead() ? (
      <EmptyState sentence="Nothing is planned yet.">
        <LinkButton label="Load a plan file" href="/settings" kind="act" />
      </EmptyState>
    ) : (
      <EmptyState sentence="Nothing is planned yet. The lead loads a plan file under Build settings." />
    );
  }
  const waiting = view.not_yet.length;
  const most = view.holding_up[0] && `${waiting === 1 ? "" : ", most of them"} for ${view.holding_up[0]}`;
  const waits = waiting > 0 ? ` ${some(waiting, "task waits", "tasks wait")}${most ?? ""}.` : "";
  const ask = view.ask_person && view.ask_person !== actor.value ? ` Ask ${nameOf(view.ask_person)}.` : "";
  return (
    <EmptyState sentence={`Nothing is ready for you.${waits}${ask}`}>
      <LinkButton label="Show what waits" href="/plan" />
    </EmptyState>
  );
}

function Matter({ view: told }: { view: QueueView }): JSX.Element {
  const view = atHand(told);
  const mine = rows("member").get(actor.value ?? "");
  const first = mine !== undefined && !isIn(mine);
  const mayAct = view.person === actor.value; // somebody else's queue is looked at, read only
  const newcomer = view.taken.length === 0 && !view.start_now && view.once.length === 0;
  const nothing =
    newcomer &&
    view.help_wanted.length === 0 &&
    view.checks.length + (view.holds ?? []).length + (view.differently ?? []).length === 0;
  return (
    <div class="stack-wide">
      {first && view.person === actor.value && (
        <div class="stack">
          <NoticeLine>
            You are not signed in today.
            {view.ask_person && view.ask_person !== actor.value
              ? ` Questions go to ${fullNameOf(view.ask_person)}.`
              : ""}
          </NoticeLine>
          <Button label="Sign in for the day" onPress={() => void dispatch("crew.sign_in", {})} />
        </div>
      )}
      <Refused />
      {view.taken.length > 0 && (
        <Part title="You have taken">
          {view.taken.map((card) => (
            <CardTag
              key={card.task}
              card={card}
              lit={card.state === "taken" || card.state === "stuck"}
              action={
                <LinkButton label={nextWords(card)} href={`/tasks/${card.task}`} kind="act" size={72} wide />
              }
            />
          ))}
        </Part>
      )}
      {view.handed.length > 0 && (
        <Part title="Done here, not handed over yet">
          {view.handed.map((card) => (
            <CardTag key={card.task} card={card} />
          ))}
        </Part>
      )}
      {newcomer && view.help_wanted[0] && (
        <Part title="Start with this">
          <Help card={view.help_wanted[0]} main mine={mayAct} />
        </Part>
      )}
      {view.start_now && (
        <Part title="Start this now">
          <Take key={view.start_now.task} card={view.start_now} main mine={mayAct} />
        </Part>
      )}
      {view.once.length > 0 && (
        <Part title="Ready once handed over">
          {view.once.map((card, index) => (
            <Take key={card.task} card={card} main={index === 0 && !view.start_now} mine={mayAct} />
          ))}
        </Part>
      )}
      {view.checks.length + (view.holds ?? []).length > 0 && (
        <Part title="Checks that wait for you">
          <PlaceList
            places={[
              ...view.checks.map((check) => ({
                key: check.group,
                word: check.name,
                second: check.my_check
                  ? "checked, PIN due"
                  : `${some(check.bolts.length, "bolt")}${check.task ? `, ${check.task}` : ""}`,
                href: `/checks/${check.group}`,
              })),
              ...(view.holds ?? []).map(holdPlace),
            ]}
          />
        </Part>
      )}
      {(view.differently ?? []).length > 0 && (
        <Part title="Done differently: your yes is wanted">
          <PlaceList places={(view.differently ?? []).map(differentlyPlace)} />
        </Part>
      )}
      {view.help_wanted.length > (newcomer ? 1 : 0) && (
        <Part title="Help wanted">
          {view.help_wanted.slice(newcomer ? 1 : 0).map((card) => (
            <Help key={card.task} card={card} main={false} mine={mayAct} />
          ))}
        </Part>
      )}
      {view.after_that.length > 0 && (
        <Part title="After that">
          <InTurns
            name="after that"
            of={view.after_that}
            each={(card) => <CardTag key={card.task} card={card} />}
          />
        </Part>
      )}
      {mayAct && mine?.role !== "viewer" && <ToBeUndone />}
      {nothing && <Nothing view={view} />}
      <Folded
        at="not yet"
        title="Not yet"
        count={view.not_yet.length}
        inside={() => <Reasons cards={view.not_yet} />}
      />
      <Folded
        at="not for you"
        title="Not for you"
        count={view.not_for_you.length}
        inside={() => tags(view.not_for_you)}
      />
    </div>
  );
}

/** My queue, or the one of somebody whom the lead looks over. */
export default function QueueList({ person }: { person?: string | undefined }): JSX.Element {
  const whose = person ?? typingFor.value;
  const answer = useView<QueueView>(whose ? `/queue?person=${whose}` : "/queue");
  const { data } = answer;
  // That it still is so, as most answers say, draws no tag anew.
  const matter = useMemo(() => data && <Matter view={data} />, [data]);
  return (
    <>
      <AsOf at_ms={answer.at_ms} />
      {answer.problem && <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />}
      {matter ?? (!answer.problem && <Fetching />)}
    </>
  );
}
