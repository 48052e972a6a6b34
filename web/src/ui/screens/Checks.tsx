/** Checks and hold points that wait for me, and the walk round: several groups, one PIN (R13). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { Fetching } from "../Fetching";
import { PlaceList } from "../PlaceList";
import { EmptyState, NoticeLine } from "../parts";
import { Screen } from "../Screen";
import { Walk } from "../torque/Walk";
import { some } from "../words/counts";
import { holdPlace } from "../words/holds";

type ChecksView = components["schemas"]["ChecksView"];
type Waits = ChecksView["waiting_for_me"][number];

function lines(
  waits: readonly Waits[],
  mine: boolean,
): { key: string; word: string; href: string; second: string }[] {
  return waits.map((one) => ({
    key: one.group,
    word: `${one.name}${one.critical ? " · critical" : ""}`,
    href: `/checks/${one.group}`,
    second: one.my_check
      ? "checked, PIN due"
      : mine
        ? `${some(one.bolts.length, "bolt")}${one.task ? `, ${one.task}` : ""}`
        : one.nobody_here
          ? "Nobody here may check this. It waits for them."
          : `waits for ${one.who_may
              .filter((who) => who.here)
              .map((who) => nameOf(who.person))
              .join(" or ")}`,
  }));
}

export default function Checks(): JSX.Element {
  const answer = useView<ChecksView>("/checks");
  const view = answer.data;
  const [signed, setSigned] = useState<string[]>([]);
  return (
    <Screen title="Checks" place="queue">
      <AsOf at_ms={answer.at_ms} />
      {!view ? (
        <Fetching sentence="Fetching the checks" />
      ) : (
        <div class="stack">
          {signed.length > 0 && (
            <p role="status" class="t-strong">
              Countersigned: {signed.join(", ")}.
            </p>
          )}
          {view.walk.length > 0 && <Walk walk={view.walk} onSigned={setSigned} />}
          {view.waiting_for_me.length + (view.holds_for_me ?? []).length === 0 ? (
            <EmptyState sentence="No check waits for you." />
          ) : (
            <>
              <h2>Wait for you</h2>
              <PlaceList
                places={[...lines(view.waiting_for_me, true), ...(view.holds_for_me ?? []).map(holdPlace)]}
              />
            </>
          )}
          {view.waiting_for_others.length + (view.holds_for_others ?? []).length > 0 && (
            <>
              <h2>Wait for others</h2>
              <NoticeLine>You helped with these, or may not countersign. They need fresh eyes.</NoticeLine>
              <PlaceList
                places={[
                  ...lines(view.waiting_for_others, false),
                  ...(view.holds_for_others ?? []).map(holdPlace),
                ]}
              />
            </>
          )}
        </div>
      )}
    </Screen>
  );
}
