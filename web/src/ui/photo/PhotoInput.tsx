/** A button that opens the camera and hands on the picture. */

import type { JSX } from "preact";
import { handOn } from "../parts";

export function PhotoInput(props: {
  label: string;
  disabled?: boolean;
  onFile: (file: File) => void;
}): JSX.Element {
  return (
    <label class="button button-plain button-64 button-wide photo-button">
      {props.label}
      <input
        class="heard"
        type="file"
        accept="image/*"
        capture="environment"
        disabled={props.disabled}
        onChange={handOn(props.onFile)}
      />
    </label>
  );
}
