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

type Times = components["schemas"]["LiftTimes"];
type Time = Times["offers"][number];

function cost(minutes: number): string {
  if (minutes <= 0) return "Costs the finish nothing.";
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  const said = [hours ? `${hours} h` : "", rest ? `${rest} min` : ""].filter(Boolean).join(" ");
  return `Costs the finish ${said} of build days.`;
}

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

function Offer({ offer, onChoose }: { offer: Time; onChoose: (ms: number) => void }): JSX.Element {
  return (
    <li class="place-line">
      <span class="place-word">{moment(offer.from_ms)}</span>
      <span class="place-second">With {namesOf(offer.people)}.</span>
      <Before tasks={offer.before} />
      <span class="place-second">
        {cost(offer.cost_min)}
        {offer.gates_late.length > 0 && ` This makes later: ${offer.gates_late.join(", ")}.`}
      </span>
      <Button
        label="Choose this time"
        heard={`Choose this time, ${moment(offer.from_ms)}`}
        onPress={() => onChoose(offer.from_ms)}
      />
    </li>
  );
}

export function FindTime({ lift, onChoose }: { lift: string; onChoose: (ms: number) => void }): JSX.Element {
  const [times, setTimes] = useState<Times | null>(null);
  const post = usePost();
  return (
    <section class="stack" aria-label="Find a time">
      <Button
        label={post.busy ? "Looking" : "Find a time"}
        wide
        onPress={async () =>
          setTimes(
            await post.send<Times>("GET", `/api/builds/${build.value?.id ?? ""}/days/lifts/${lift}/times`),
          )
        }
      />
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      {times && times.offers.length > 0 && (
        <ul class="place-list">
          {times.offers.map((offer) => (
            <Offer key={offer.from_ms} offer={offer} onChoose={onChoose} />
          ))}
        </ul>
      )}
      {times && times.offers.length === 0 && (
        <>
          <NoticeLine>No day that was given will do.</NoticeLine>
          <WhyNot reasons={times.reasons} />
        </>
      )}
    </section>
  );
}
