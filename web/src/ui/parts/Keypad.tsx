import type { ComponentChildren, JSX, RefObject } from "preact";
import { useId, useState } from "preact/hooks";
import { formatInches, inchesInMm, localeMark, parseInches } from "./numbers";

interface KeyProps {
  word: ComponentChildren;
  heard?: string;
  look?: "word" | "fraction";
  onPress: () => void;
}

export function Key({ word, heard, look, onPress }: KeyProps): JSX.Element {
  return (
    <button
      type="button"
      class={look === undefined ? "key" : `key key-${look}`}
      aria-label={heard}
      onClick={onPress}
    >
      {word}
    </button>
  );
}

const BACK = (
  <svg viewBox="0 0 34 26" aria-hidden="true">
    <path d="M11 2 H32 V24 H11 L2 13 Z" />
    <path d="M16 8 L26 18 M26 8 L16 18" />
  </svg>
);

/** Twelve keys in phone order, 1-2-3 on top; the lower left one is the caller's. */
export function digitKeys(
  value: string,
  onType: (value: string) => void,
  lowerLeft: ComponentChildren,
): ComponentChildren[] {
  const digit = (d: string): JSX.Element => <Key key={d} word={d} onPress={() => onType(value + d)} />;
  return [
    ..."123456789".split("").map(digit),
    lowerLeft,
    digit("0"),
    <Key key="back" word={BACK} heard="Take the last one away" onPress={() => onType(value.slice(0, -1))} />,
  ];
}

export interface KeypadProps {
  /** "Reading of bolt 5" */
  label: string;
  value: string;
  onType: (value: string) => void;
  /** Enter on a hardware keyboard presses the main button. */
  onEnter?: () => void;
  kind?: "decimal" | "whole" | "inches";
  /** Inside the box; set by the torque wrench or the spec, never typed: "N·m". */
  unit: string;
  /** Read with the value: "newton metres". */
  unitHeard: string;
  /** What is wrong and what to type: "Type a number, such as 92 or 92,5." */
  wrong?: string | undefined;
  locale?: string;
  inputRef?: RefObject<HTMLInputElement>;
}

const STEPS = [8, 16, 32, 64] as const;
const ONE: Record<number, string> = { 8: "eighth", 16: "sixteenth", 32: "thirty-second", 64: "sixty-fourth" };
const STEP_WORD: Record<number, string> = { 8: "8ths", 16: "16ths", 32: "32nds", 64: "64ths" };

/** Our own keys for gloves, round a real input: hardware keys, paste and screen readers work. */
export function Keypad(props: KeypadProps): JSX.Element {
  const { value, onType, kind = "decimal" } = props;
  const id = useId();
  const [phoneKeys, setPhoneKeys] = useState(false);
  const said = [`${id}-unit`, props.wrong === undefined ? "" : `${id}-wrong`].join(" ").trim();
  return (
    <div class="keypad">
      <div class={props.wrong === undefined ? "field" : "field field-wrong"}>
        <label class="field-label" for={id}>
          {props.label}
        </label>
        <div class="figure-box">
          <input
            ref={props.inputRef ?? null}
            id={id}
            class={kind === "inches" ? "figure-input figure-input-inches" : "figure-input"}
            type="text"
            inputMode={phoneKeys ? (kind === "inches" ? "text" : "decimal") : "none"}
            autocomplete="off"
            value={value}
            aria-describedby={said}
            aria-invalid={props.wrong !== undefined}
            onInput={(e) => onType(e.currentTarget.value)}
            onKeyDown={(e) => {
              if (e.key === "Enter") {
                e.preventDefault();
                props.onEnter?.();
              }
            }}
          />
          <span class="figure-unit" aria-hidden="true">
            {props.unit}
          </span>
          <span class="heard" id={`${id}-unit`}>
            {props.unitHeard}
          </span>
        </div>
        {props.wrong !== undefined && (
          <p class="field-sentence" id={`${id}-wrong`}>
            {props.wrong}
          </p>
        )}
      </div>
      {kind === "inches" ? (
        <InchKeys value={value} onType={onType} />
      ) : (
        <fieldset class="keys" aria-label="Digits">
          {digitKeys(
            value,
            onType,
            kind === "whole" ? <span /> : <DecimalKey value={value} onType={onType} locale={props.locale} />,
          )}
        </fieldset>
      )}
      <button
        type="button"
        class="button button-quiet button-48"
        aria-pressed={phoneKeys}
        onClick={() => setPhoneKeys(!phoneKeys)}
      >
        Use the phone's keys
      </button>
    </div>
  );
}

interface TypingProps {
  value: string;
  onType: (value: string) => void;
}

/** One key, showing the locale's mark; a second mark in the same number does nothing. */
function DecimalKey({ value, onType, locale }: TypingProps & { locale: string | undefined }): JSX.Element {
  const mark = localeMark(locale);
  return (
    <Key
      word={mark}
      heard={mark === "," ? "comma" : "point"}
      onPress={() => {
        if (!/[.,]/.test(value)) onType(`${value === "" ? "0" : value}${mark}`);
      }}
    />
  );
}

function InchKeys({ value, onType }: TypingProps): JSX.Element {
  const [step, setStep] = useState<number>(16);
  const parts = parseInches(value);
  const nudge = (by: 1 | -1): void => {
    const now = parts ?? 0;
    const size = 64 / step;
    // Land on a mark of the chosen scale, so that a nudge never leaves a value between two marks.
    const next = by === 1 ? Math.floor(now / size) + 1 : Math.ceil(now / size) - 1;
    onType(formatInches(Math.max(0, next) * size));
  };
  const nextStep = STEPS[(STEPS.indexOf(step as (typeof STEPS)[number]) + 1) % STEPS.length] ?? 16;
  const digits = digitKeys(
    value,
    onType,
    <Key
      word={STEP_WORD[step]}
      heard={`Steps of ${STEP_WORD[step] ?? ""}; press for ${STEP_WORD[nextStep] ?? ""}`}
      look="word"
      onPress={() => setStep(nextStep)}
    />,
  );
  return (
    <>
      <p class="keypad-under" aria-live="polite">
        {parts === undefined ? "" : `${formatInches(parts)} in (${inchesInMm(parts)} mm)`}
      </p>
      <div class="keys-inches">
        <fieldset class="keys" aria-label="Digits">
          {digits}
        </fieldset>
        <fieldset class="keys keys-beside" aria-label="Fractions">
          <Key word="and" look="word" onPress={() => onType(`${value.trimEnd()} `)} />
          <Key word="/" heard="over" onPress={() => onType(`${value}/`)} />
          <Key
            word={`−1/${step}`}
            heard={`−1/${step}, one ${ONE[step]} less`}
            look="fraction"
            onPress={() => nudge(-1)}
          />
          <Key
            word={`+1/${step}`}
            heard={`+1/${step}, one ${ONE[step]} more`}
            look="fraction"
            onPress={() => nudge(1)}
          />
        </fieldset>
      </div>
    </>
  );
}
