/** A PIN chosen anew is typed twice: nobody can read it back. */

import type { JSX } from "preact";
import { TextField } from "./parts/Field";
import { pinTrouble } from "./words/pin";

export interface TypedTwice {
  pin: string;
  again: string;
}

export const NOTHING_TYPED: TypedTwice = { pin: "", again: "" };

/** Why it can't be taken yet; an empty role is one that this phone does not know. */
export function newPinTrouble({ pin, again }: TypedTwice, role: string): string | undefined {
  return pinTrouble(pin, role) ?? (pin === again ? undefined : "type it twice, the same");
}

export function NewPin(props: {
  label: string;
  typed: TypedTwice;
  onType: (typed: TypedTwice) => void;
}): JSX.Element {
  const { label, typed, onType } = props;
  return (
    <>
      <TextField
        label={label}
        kind="password"
        value={typed.pin}
        onType={(pin) => onType({ ...typed, pin })}
        autocomplete="new-password"
      />
      <TextField
        label="The same again"
        kind="password"
        value={typed.again}
        onType={(again) => onType({ ...typed, again })}
        autocomplete="new-password"
      />
    </>
  );
}
