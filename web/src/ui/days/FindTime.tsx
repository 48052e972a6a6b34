/** Find a time for a lift: the best three, who, what must be done before, and what each costs the finish. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { build } from "../../app/session";
import type { components } from "../../wire/schema";
import { namesOf } from "../lift/words";
import { Button, NoticeLine, RefusalPanel } from "../parts";
import { usePost } from "../usePost";
import { moment } from "../words/times";
import { WhyNot } from "./WhyNot";
import { costWords } from "./words";

type Times = components["schemas"]["LiftTimes"];
type Time = Times["offers"][number];

const NAMED = 3;

/** What must be done before; where it is much, the last of it, which the lift waits for most nearly, and the rest folded. */
function Before({ tasks }: { tasks: Time["before"] }): JSX.Element {
  const named = (some: Time["before"]) => some.map((one) => `${one.task} ${one.title}`).join(", ");
  if (tasks.length === 0) return <span class="place-second">Nothing must be done before.</span>;
  if (tasks.length <= NAMED) return <span class="place-second">Before it: {named(tasks)}.</span>;
  return (
    <>
      <span class="place-second">
        Before it: {tasks.length} tasks, the last {named(tasks.slice(-NAMED))}.
      </span>
      <details class="fold">
        <summary>All {tasks.length}</summary>
        <p>{named(tasks)}.</p>
      </details>
    </>
  );
}

interface OfferProps {
  offer: Time;
  chosen: boolean;
  onChoose: (ms: number) => void;
}

function Offer({ offer, chosen, onChoose }: OfferProps): JSX.Element {
  return (
    <li class="place-line">
      <span class="place-word">{moment(offer.from_ms)}</span>
      <span class="place-second">With {namesOf(offer.people)}.</span>
      <Before tasks={offer.before} />
      <span class="place-second">
        {costWords(offer.cost_min)}
        {offer.gates_late.length > 0 && ` This makes later: ${offer.gates_late.join(", ")}.`}
      </span>
      {chosen ? (
        <span class="place-second" role="status">
          Chosen. It still holds; call the lift below.
        </span>
      ) : (
        <Button
          label="Choose this time"
          heard={`Choose this time, ${moment(offer.from_ms)}`}
          onPress={() => onChoose(offer.from_ms)}
        />
      )}
    </li>
  );
}

export function FindTime({ lift, onChoose }: { lift: string; onChoose: (ms: number) => void }): JSX.Element {
  const [times, setTimes] = useState<Times | null>(null);
  const [chosen, setChosen] = useState<number | null>(null);
  const post = usePost();
  const path = `/api/builds/${build.value?.id ?? ""}/days/lifts/${lift}/times`;
  // What was found a while ago is planned and proven once more before it is called for.
  const choose = async (ms: number) => {
    const holds = await post.send<Time>("GET", `${path}/${ms}`);
    setChosen(holds ? ms : null);
    if (holds) onChoose(ms);
  };
  const look = async () => {
    setChosen(null);
    setTimes(await post.send<Times>("GET", path));
  };
  return (
    <section class="stack" aria-label="Find a time">
      <Button label={post.busy ? "Looking" : "Find a time"} wide onPress={look} />
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      {times && times.offers.length > 0 && (
        <ul class="place-list">
          {times.offers.map((offer) => (
            <Offer key={offer.from_ms} offer={offer} chosen={chosen === offer.from_ms} onChoose={choose} />
          ))}
        </ul>
      )}
      {times && !times.all_days && (
        <NoticeLine>There was no time to try every day; a later one may be better.</NoticeLine>
      )}
      {times && times.offers.length === 0 && (
        <>
          {times.all_days && <NoticeLine>No day that was given will do.</NoticeLine>}
          <WhyNot reasons={times.reasons} />
        </>
      )}
    </section>
  );
}
