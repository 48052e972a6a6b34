import type { ComponentChildren, JSX } from "preact";
import { Button } from "./Button";
import { Stub } from "./Stub";

export interface StepRowProps {
  number: number;
  words: string;
  state: "to_do" | "current" | "done" | "left_out";
  /** "diagonals 2487 and 2488 mm" */
  value?: string | undefined;
  /** "Aled, 10:52" or why it was left out or done differently. */
  second?: string | undefined;
  /** "Manual p. 48, rev C" */
  page?: string | undefined;
  stub?: string | undefined;
  children?: ComponentChildren;
}

/** One step of a task. Left-out steps stay in their place, crossed out. Use inside `<ol class="rows">`. */
export function StepRow(props: StepRowProps): JSX.Element {
  const { state } = props;
  return (
    <li
      class={`step step-${state.replace("_", "-")}`}
      aria-current={state === "current" ? "step" : undefined}
    >
      <span class="step-number">
        {state === "done" ? (
          <svg class="step-mark" viewBox="0 0 32 26" role="img" aria-label={`Step ${props.number}, done`}>
            <path d="M4 14 L12 22 L28 4" />
          </svg>
        ) : (
          props.number
        )}
      </span>
      <div class="step-words">
        <p class={state === "left_out" ? "crossed-out" : undefined}>
          {props.words}
          {state === "left_out" && <span class="heard"> (left out)</span>}
        </p>
        {props.value !== undefined && <p>{props.value}</p>}
        {props.second !== undefined && <p class="step-second">{props.second}</p>}
        {props.page !== undefined && <p class="step-second">{props.page}</p>}
        {props.stub !== undefined && <Stub word={props.stub} />}
        {props.children}
      </div>
    </li>
  );
}

export type CheckAnswer = "holds" | "moved";

export interface FastenerRowProps {
  number: number;
  where?: string | undefined;
  /** "24 N·m, clicked" */
  reading: string;
  /** An older reading or signature that no longer counts, still readable. */
  crossedOut?: string | undefined;
  /** The second person's finding; without `onAnswer` the row is read only. */
  answer?: CheckAnswer | undefined;
  onAnswer?: ((answer: CheckAnswer) => void) | undefined;
  /** Who, when, with what: a line each. */
  how?: readonly string[] | undefined;
  /** What to look at twice: "Bolt 3 was read again at 11:02. Look at it again." */
  warns?: readonly string[] | undefined;
  stub?: string | undefined;
}

/** One fastener, 72 px: its number, what was read, where it is, and what the second person found. */
export function FastenerRow(props: FastenerRowProps): JSX.Element {
  const { number, answer, onAnswer } = props;
  return (
    <li class={onAnswer === undefined ? "fastener-row" : "fastener-row fastener-row-answers"}>
      <span class="fastener-number">{number}</span>
      <div class="fastener-what">
        <p class="fastener-reading">{props.reading}</p>
        {props.crossedOut !== undefined && <p class="crossed-out">{props.crossedOut}</p>}
        {props.where !== undefined && <p class="fastener-where">{props.where}</p>}
        {props.how?.map((line) => (
          <p key={line} class="fastener-where">
            {line}
          </p>
        ))}
        {props.warns?.map((line) => (
          <p key={line} class="fastener-warns">
            {line}
          </p>
        ))}
        {props.stub !== undefined && <Stub word={props.stub} />}
        {onAnswer === undefined && answer !== undefined && <p>{answer === "holds" ? "Holds" : "It moved"}</p>}
      </div>
      {onAnswer !== undefined && (
        <fieldset class="fastener-answers" aria-label={`Bolt ${number}`}>
          <Button
            label="Holds"
            heard={`Holds, bolt ${number}`}
            size={56}
            chosen={answer === "holds"}
            onPress={() => onAnswer("holds")}
          />
          <Button
            label="It moved"
            heard={`It moved, bolt ${number}`}
            size={56}
            chosen={answer === "moved"}
            onPress={() => onAnswer("moved")}
          />
        </fieldset>
      )}
    </li>
  );
}

export interface RollRowProps {
  /** "Front left" */
  place: string;
  name: string;
  /** Ticked by the caller when the name answers. */
  inPlace: boolean;
  /** "not ready yet": shown beside the name while it can't be ticked. */
  blocked?: string | undefined;
  onPress: () => void;
}

/** One place of the roll call, pressed when its name answers. */
export function RollRow({ place, name, inPlace, blocked, onPress }: RollRowProps): JSX.Element {
  return (
    <button
      type="button"
      class="roll-row"
      aria-pressed={inPlace}
      aria-disabled={blocked === undefined ? undefined : "true"}
      onClick={() => {
        if (blocked === undefined) onPress();
      }}
    >
      <span class="roll-row-words">
        <span class="roll-row-name">{name}</span>
        <span class="t-small">{place}</span>
      </span>
      <span class="roll-row-state">{blocked ?? (inPlace ? "in place" : "call the name")}</span>
    </button>
  );
}
