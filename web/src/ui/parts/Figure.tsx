import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Button } from "./Button";

export interface FigureProps {
  value: string;
  unit: string;
  /** "24 newton metres" is heard, whatever the unit's sign. */
  unitHeard: string;
  /** "23 to 25" */
  limits?: string | undefined;
  /** What the figure holds for: "Pass 2 of 2 · dry zinc · torque wrench W1". */
  holdsFor?: string | undefined;
}

/** The number of the moment, readable at arm's length. Never without its unit. */
export function Figure({ value, unit, unitHeard, limits, holdsFor }: FigureProps): JSX.Element {
  return (
    <p class="figure">
      <span class="figure-value">{value}</span>
      <span class="figure-unit" aria-hidden="true">
        {unit}
      </span>
      <span class="heard">{unitHeard}</span>
      {limits !== undefined && <span class="figure-limits">{limits}</span>}
      {holdsFor !== undefined && <span class="figure-holds">{holdsFor}</span>}
    </p>
  );
}

export interface SlipGuardProps {
  /** Outside the limits but near, or so far that it looks like another unit or a slipped digit. */
  how: "near" | "far";
  /** "3 over the limit." / "68 is far from 92. 68 lbf·ft would be 92 N·m. Look at the torque wrench." */
  sentence: string;
  /** "99 N·m": the value with its unit, as it will be written. */
  asRead: string;
  onWrite: () => void;
  onTypeAgain: () => void;
  /** "It reads lbf·ft: change torque wrench" */
  otherUnit?: { label: string; onPress: () => void } | undefined;
}

/** Stands between the typed value and the record. Nothing is converted; far off, *Type it again* has the focus. */
export function SlipGuard(props: SlipGuardProps): JSX.Element {
  const panel = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (props.how === "far") panel.current?.querySelector("button")?.focus();
  }, [props.how]);
  return (
    <div class="slip-guard" role="alert" ref={panel}>
      <p class="refusal-sentence">{props.sentence}</p>
      <Button
        label="Type it again"
        size={64}
        wide
        kind={props.how === "far" ? "act" : "plain"}
        onPress={props.onTypeAgain}
      />
      {props.otherUnit !== undefined && (
        <Button label={props.otherUnit.label} size={64} wide onPress={props.otherUnit.onPress} />
      )}
      <Button label={`Write ${props.asRead} as read`} size={64} wide onPress={props.onWrite} />
    </div>
  );
}
