/** All lifts: where each stands, when, how many places are taken. */

import type { JSX } from "preact";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { EmptyState, LoadingTags, RefusalPanel } from "../parts";
import { AsOf, Screen } from "../Screen";
import { liftWord } from "../words/lifts";
import { says } from "../words/saying";
import { moment } from "../words/times";

type Line = components["schemas"]["LiftLine"];

function second(lift: Line): string {
  const parts = [liftWord(lift.state)];
  if (lift.when_ms) parts.push(moment(lift.when_ms));
  parts.push(`${lift.taken} of ${lift.places} places taken`);
  if (lift.my_places.length > 0) parts.push("you have a place");
  else if (lift.my_answer === "will_come") parts.push("you will be there");
  else if (lift.my_answer === "declined") parts.push("you can't come");
  else if (lift.state === "called") parts.push("your answer is wanted");
  if (lift.signature_due) parts.push("one more must sign it as landed");
  return parts.join(" · ");
}

export default function Lifts(): JSX.Element {
  const answer = useView<components["schemas"]["LiftsView"]>("/lifts");
  const lifts = answer.data?.lifts ?? [];
  const called = lifts.filter((one) => !["drafted", "landed", "stood_down"].includes(one.state));
  const next = lifts.find((one) => one.state === "drafted");
  return (
    <Screen title="Lifts" place="lifts">
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        {!answer.data &&
          (answer.problem ? (
            <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
          ) : (
            <LoadingTags sentence="Fetching the lifts" />
          ))}
        {answer.data && called.length === 0 && (
          <EmptyState
            sentence={`No lift is called. ${next ? `Next in the plan: ${next.title}, ${next.places} places.` : "The plan has no other lift."}`}
          />
        )}
        <ul class="place-list">
          {lifts.map((one) => (
            <li key={one.id}>
              <a class="place-line" href={`/lifts/${one.id}`}>
                <span class="place-word">{one.title}</span>
                <span class="place-second">{second(one)}</span>
                {one.unfit && <span class="place-second">{says(one.unfit)}</span>}
              </a>
            </li>
          ))}
        </ul>
      </div>
    </Screen>
  );
}
