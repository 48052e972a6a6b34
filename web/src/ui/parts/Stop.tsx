import type { ComponentChildren, JSX } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

export interface StopBarProps {
  onStop: () => void;
}

/** One press, no question, never ignored. It fires as the finger comes down, not when it lifts. */
export function StopBar({ onStop }: StopBarProps): JSX.Element {
  const down = useRef(false);
  return (
    <div class="stop-bar">
      <button
        type="button"
        class="stop-button"
        onPointerDown={() => {
          down.current = true;
          onStop();
        }}
        onClick={() => {
          // The click that follows a finger is the same press; one without a finger is a key or a reader.
          if (!down.current) onStop();
          down.current = false;
        }}
      >
        STOP
      </button>
    </div>
  );
}

export interface StopScreenProps {
  open: boolean;
  /** "Kofi stopped the lift at 14:06:31." */
  sentence: string;
  /** "Hold still. Listen to Bram." */
  next: string;
  /** Without an answer from the service: "Not sent. Shout STOP." stays until it is. */
  unsent?: string | undefined;
  /** For the caller: *Lower it* / *Go on: call the roll again*. */
  children?: ComponentChildren;
}

/** How long a bouncing glove is not listened to after the screen came up. */
const BOUNCE_MS = 400;

/** Over everything, at once, before any answer comes. Only an answer or the caller takes it away. */
export function StopScreen({ open, sentence, next, unsent, children }: StopScreenProps): JSX.Element {
  const element = useRef<HTMLDialogElement>(null);
  const openedAt = useRef(0);
  const begunHere = useRef(false);
  useLayoutEffect(() => {
    const dialog = element.current;
    if (dialog === null) return;
    if (open && !dialog.open) {
      openedAt.current = performance.now();
      begunHere.current = false;
      dialog.showModal();
    }
    if (!open && dialog.open) dialog.close();
  }, [open]);
  return (
    <dialog
      ref={element}
      class="stop-screen"
      aria-label="STOP"
      role="alertdialog"
      // The finger that pressed STOP lifts over this screen: its click must not press *Go on*.
      onPointerDownCapture={() => {
        begunHere.current = performance.now() - openedAt.current > BOUNCE_MS;
      }}
      onClickCapture={(e) => {
        if (e.detail > 0 && !begunHere.current) {
          e.preventDefault();
          e.stopPropagation();
        }
        begunHere.current = false;
      }}
      onCancel={(e) => e.preventDefault()}
      onClose={() => {
        // A browser may close it on a second Esc; while the lift is stopped it comes back.
        if (open) element.current?.showModal();
      }}
    >
      {open && (
        <div class="stop-screen-inside">
          <h1 class="stop-word" tabIndex={-1}>
            STOP
          </h1>
          <div role="alert" class="stack">
            <p class="t-strong">{sentence}</p>
            <p class="t-arm">{next}</p>
            {unsent !== undefined && <p class="t-arm">{unsent}</p>}
          </div>
          <div class="stop-screen-buttons">{children}</div>
        </div>
      )}
    </dialog>
  );
}
