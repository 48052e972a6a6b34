import type { JSX } from "preact";
import { useId } from "preact/hooks";

export interface ChoiceOption<K extends string = string> {
  key: K;
  word: string;
  second?: string | undefined;
  /** Can't be chosen now, and why; it stays listed. */
  blocked?: string | undefined;
}

export interface ChoiceProps<K extends string> {
  legend: string;
  /** Hide the legend on screen where a heading already says it. */
  legendHidden?: boolean;
  options: readonly ChoiceOption<K>[];
  chosen: K | undefined;
  onChoose: (key: K) => void;
  row?: boolean;
  help?: string | undefined;
  wrong?: string | undefined;
}

/** One of several. Chosen is a bar and bold, never a colour alone. */
export function Choice<K extends string>(props: ChoiceProps<K>): JSX.Element {
  const name = useId();
  return (
    <fieldset class={props.wrong === undefined ? undefined : "field-wrong"}>
      <legend class={props.legendHidden === true ? "heard" : "field-label"}>{props.legend}</legend>
      {props.help !== undefined && <p class="field-help">{props.help}</p>}
      <div class={props.row === true ? "choices choices-row" : "choices"}>
        {props.options.map((option) => (
          <label key={option.key} class={option.blocked === undefined ? "choice" : "choice choice-off"}>
            <input
              type="radio"
              name={name}
              checked={option.key === props.chosen}
              aria-disabled={option.blocked === undefined ? undefined : "true"}
              onChange={(e) => {
                if (option.blocked === undefined) props.onChoose(option.key);
                else e.currentTarget.checked = false;
              }}
            />
            <span>
              {option.word}
              {option.second !== undefined && <span class="choice-second">{option.second}</span>}
              {option.blocked !== undefined && <span class="choice-second">{option.blocked}</span>}
            </span>
          </label>
        ))}
      </div>
      {props.wrong !== undefined && <p class="field-sentence">{props.wrong}</p>}
    </fieldset>
  );
}

export interface TickProps {
  word: string;
  second?: string | undefined;
  ticked: boolean;
  onTick: (ticked: boolean) => void;
}

/** Yes or no, on its own: "have you got it?" */
export function Tick({ word, second, ticked, onTick }: TickProps): JSX.Element {
  return (
    <label class="choice">
      <input type="checkbox" checked={ticked} onChange={(e) => onTick(e.currentTarget.checked)} />
      <svg class="tick-box" viewBox="0 0 28 28" aria-hidden="true">
        <rect x="2" y="2" width="24" height="24" />
        {ticked && <path d="M6 15 L12 21 L23 6" />}
      </svg>
      <span>
        {word}
        {second !== undefined && <span class="choice-second">{second}</span>}
      </span>
    </label>
  );
}

export interface SwitchBarProps<K extends string> {
  /** What it switches: "Sort loose ends". */
  label: string;
  options: readonly { key: K; word: string }[];
  chosen: K;
  onChoose: (key: K) => void;
}

/** Two or three views of the same things: *By gate / By zone*. */
export function SwitchBar<K extends string>(props: SwitchBarProps<K>): JSX.Element {
  return (
    <fieldset class="switch-bar" aria-label={props.label}>
      {props.options.map((option) => (
        <button
          key={option.key}
          type="button"
          aria-pressed={option.key === props.chosen}
          onClick={() => props.onChoose(option.key)}
        >
          {option.word}
        </button>
      ))}
    </fieldset>
  );
}
