/** The pattern with the next bolt lit, and in words which one it is, or that one press is for all. */

import type { ComponentChildren, JSX } from "preact";
import { BoltPattern } from "../drawings";
import type { Seen, TorqueView } from "./seen";

export function PassPattern(props: {
  view: TorqueView;
  seen: Seen;
  next: number | undefined;
  all: boolean;
  pass: string;
  onPick: (bolt: number) => void;
  /** The keys, while a figure is typed: right under the bolt it is of, before the picture. */
  typing?: ComponentChildren;
}): JSX.Element {
  const { view, seen, next, all } = props;
  const bolt = seen.fasteners.find((one) => one.number === next);
  const then = seen.open.filter((n) => n !== next)[0];
  const picture = (
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
  );
  return (
    <>
      {!props.typing && picture}
      {bolt && (
        <p class="t-strong">
          {all
            ? `All ${seen.open.length}, in the order drawn: ${seen.open.join(", ")}`
            : `Bolt ${bolt.number}, ${bolt.where}`}
          {!all && then !== undefined && <span class="t-dim"> then {then}</span>}
        </p>
      )}
      {props.typing}
      {props.typing && picture}
    </>
  );
}
