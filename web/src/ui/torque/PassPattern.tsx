/** The pattern with the next bolt lit, and in words which one it is, or that one press is for all. */

import type { JSX } from "preact";
import { BoltPattern } from "../drawings";
import type { Seen, TorqueView } from "./seen";

export function PassPattern(props: {
  view: TorqueView;
  seen: Seen;
  next: number | undefined;
  all: boolean;
  pass: string;
  onPick: (bolt: number) => void;
}): JSX.Element {
  const { view, seen, next, all } = props;
  const bolt = seen.fasteners.find((one) => one.number === next);
  const then = seen.open.filter((n) => n !== next)[0];
  return (
    <>
      <BoltPattern
        group={view.name}
        seenFrom={view.plan.seen_from}
        up={view.plan.up}
        fasteners={seen.fasteners.map((one) =>
          one.number === next ? { ...one, state: one.state === "outside" ? "outside" : "next" } : one,
        )}
        pass={props.pass}
        onPress={(n) => seen.open.includes(n) && props.onPick(n)}
      />
      {bolt && (
        <p class="t-strong">
          {all
            ? `All ${seen.open.length}, in the order drawn: ${seen.open.join(", ")}`
            : `Bolt ${bolt.number}, ${bolt.where}`}
          {!all && then !== undefined && <span class="t-dim"> then {then}</span>}
        </p>
      )}
    </>
  );
}
