/** Lifts: which are called, which come next. */

import type { JSX } from "preact";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { Fetching } from "../Fetching";
import { PlaceList } from "../PlaceList";
import { EmptyState } from "../parts";
import { Screen } from "../Screen";
import { filled } from "../words/reason";
import { moment } from "../words/times";

type LiftsView = components["schemas"]["LiftsView"];
type Line = LiftsView["lifts"][number];

function second(line: Line): string {
  const words = [line.state.replaceAll("_", " ")];
  if (line.when_ms && line.state !== "landed") words.push(moment(line.when_ms));
  if (line.state === "called" || line.state === "crewed")
    words.push(`${line.taken} of ${line.places} places taken`);
  if (line.signature_due) words.push("a signature is due");
  if (line.unfit) words.push(filled(line.unfit.says, line.unfit.params ?? {}));
  return words.join(", ");
}

export default function Lifts(): JSX.Element {
  const answer = useView<LiftsView>("/lifts");
  const lifts = answer.data?.lifts ?? [];
  const live = lifts.filter((one) => !["drafted", "landed", "stood_down"].includes(one.state));
  const rest = lifts.filter((one) => !live.includes(one));
  const next = rest.find((one) => one.state === "drafted");
  return (
    <Screen title="Lifts" place="lifts">
      <AsOf at_ms={answer.at_ms} />
      {!answer.data ? (
        <Fetching />
      ) : (
        <div class="stack">
          {live.length === 0 && (
            <EmptyState
              sentence={`No lift is called.${next ? ` Next in the plan: ${next.title}, ${next.places} places.` : ""}`}
            />
          )}
          <PlaceList
            places={[...live, ...rest].map((one) => ({
              key: one.id,
              word: `${one.id} · ${one.title}`,
              href: `/lifts/${one.id}`,
              second: second(one),
            }))}
          />
        </div>
      )}
    </Screen>
  );
}
