import type { JSX } from "preact";
import { useId, useState } from "preact/hooks";
import { digitKeys } from "./Keypad";

export interface PinPadProps {
  /** Read aloud first: "You are Desmond Achterberg, on Aled's phone". */
  who?: string | undefined;
  /** "Your PIN" */
  label: string;
  value: string;
  onType: (value: string) => void;
  onEnter?: () => void;
  /** "Wrong PIN. Three tries left." */
  wrong?: string | undefined;
  help?: string | undefined;
}

/** Digits or a phrase; shown as dots, never kept, never remembered after the act. */
export function PinPad(props: PinPadProps): JSX.Element {
  const id = useId();
  const [phoneKeys, setPhoneKeys] = useState(false);
  const said = [
    props.who === undefined ? "" : `${id}-who`,
    props.help === undefined ? "" : `${id}-help`,
    props.wrong === undefined ? "" : `${id}-wrong`,
  ]
    .filter((part) => part !== "")
    .join(" ");
  return (
    <div class="keypad">
      {props.who !== undefined && (
        <p class="pin-who" id={`${id}-who`}>
          {props.who}
        </p>
      )}
      <div class={props.wrong === undefined ? "field" : "field field-wrong"}>
        <label class="field-label" for={id}>
          {props.label}
        </label>
        {props.help !== undefined && (
          <p class="field-help" id={`${id}-help`}>
            {props.help}
          </p>
        )}
        <div class="figure-box">
          <input
            id={id}
            class="figure-input"
            type="password"
            inputMode={phoneKeys ? "text" : "none"}
            autocomplete="off"
            value={props.value}
            aria-describedby={said === "" ? undefined : said}
            aria-invalid={props.wrong !== undefined}
            onInput={(e) => props.onType(e.currentTarget.value)}
            onKeyDown={(e) => {
              if (e.key === "Enter") {
                e.preventDefault();
                props.onEnter?.();
              }
            }}
          />
        </div>
        {props.wrong !== undefined && (
          <p class="field-sentence" id={`${id}-wrong`} role="alert">
            {props.wrong}
          </p>
        )}
      </div>
      <fieldset class="keys" aria-label="Digits">
        {digitKeys(props.value, props.onType, <span />)}
      </fieldset>
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
