import type { ComponentChildren, JSX } from "preact";
import { useRef } from "preact/hooks";

/** Height of the target in px: 48 is the floor, 96 is for hands that were just busy. */
export type ButtonSize = 48 | 56 | 64 | 72 | 96;

export interface ButtonProps {
  label: string;
  onPress: () => void;
  /** Why it can't be done now ("Desmond is not on"). The button stays focusable, drawn dashed. */
  blocked?: string | undefined;
  /** Called when a blocked button is pressed, for instance to open the list of what is missing. */
  onBlocked?: (() => void) | undefined;
  size?: ButtonSize;
  /** `act` is the one main button of a screen; `quiet` is for a way out beside it. */
  kind?: "act" | "plain" | "quiet";
  /** Chosen among several: drawn as a bar and bold. */
  chosen?: boolean | undefined;
  wide?: boolean;
  submit?: boolean;
  /** Has the focus when its dialog opens: for the button that changes nothing. */
  first?: boolean;
  /** What a screen reader says when the label alone is not enough ("Holds, bolt 3"). */
  heard?: string | undefined;
  describedBy?: string | undefined;
  id?: string | undefined;
  children?: ComponentChildren;
}

const DOUBLE_TOUCH_MS = 400;

/** An ordinary button, 56 px. For the screen's one main act use `MainButton`. */
export function Button(props: ButtonProps): JSX.Element {
  const { label, blocked, size = 56, kind = "plain", wide = false } = props;
  const shown = blocked === undefined ? label : `${label}: ${blocked}`;
  const press = (event: Event): void => {
    if (blocked !== undefined) {
      event.preventDefault();
      props.onBlocked?.();
      return;
    }
    props.onPress();
  };
  return (
    <button
      type={props.submit === true ? "submit" : "button"}
      id={props.id}
      autofocus={props.first}
      class={`button button-${kind} button-${size}${wide ? " button-wide" : ""}`}
      aria-disabled={blocked === undefined ? undefined : "true"}
      aria-pressed={props.chosen}
      aria-label={props.heard === undefined || blocked !== undefined ? undefined : props.heard}
      aria-describedby={props.describedBy}
      onClick={press}
    >
      {props.children}
      <span>{shown}</span>
    </button>
  );
}

export type MainButtonProps = Omit<ButtonProps, "kind" | "wide">;

/** The one main button of a screen. A second touch within 400 ms is ignored: gloves bounce. */
export function MainButton(props: MainButtonProps): JSX.Element {
  const lastPress = useRef(Number.NEGATIVE_INFINITY);
  const press = (): void => {
    const now = performance.now();
    if (now - lastPress.current < DOUBLE_TOUCH_MS) return;
    lastPress.current = now;
    props.onPress();
  };
  return <Button {...props} size={props.size ?? 72} kind="act" wide onPress={press} />;
}

/** A link drawn as a button: for going somewhere, never for doing something. */
export function LinkButton(props: {
  label: string;
  href: string;
  size?: ButtonSize;
  kind?: "act" | "plain" | "quiet";
  wide?: boolean;
}): JSX.Element {
  const { size = 56, kind = "plain", wide = false } = props;
  return (
    <a class={`button button-${kind} button-${size}${wide ? " button-wide" : ""}`} href={props.href}>
      {props.label}
    </a>
  );
}
