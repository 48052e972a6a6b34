import type { ComponentChildren, JSX } from "preact";
import { useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import { Button, MainButton } from "./Button";
import { Choice } from "./Choice";
import { TextField } from "./Field";

export interface DialogProps {
  open: boolean;
  title: string;
  /** Esc, or leaving it as it is. */
  onClose: () => void;
  children: ComponentChildren;
  /** Buttons at the foot, in the thumb's reach. Give `first` to the one that changes nothing. */
  foot?: ComponentChildren;
}

/** Holds the focus while open and gives it back after. A full page on the phone. */
export function Dialog({ open, title, onClose, children, foot }: DialogProps): JSX.Element {
  const element = useRef<HTMLDialogElement>(null);
  const id = useId();
  useLayoutEffect(() => {
    const dialog = element.current;
    if (dialog === null) return;
    if (open && !dialog.open) dialog.showModal();
    if (!open && dialog.open) dialog.close();
  }, [open]);
  return (
    <dialog
      ref={element}
      class="dialog"
      aria-labelledby={id}
      onCancel={(e) => {
        e.preventDefault();
        onClose();
      }}
      onClose={() => {
        if (open) onClose();
      }}
    >
      {open && (
        <div class="dialog-inside">
          <h2 id={id} class="t-strong">
            {title}
          </h2>
          {children}
          {foot !== undefined && <div class="dialog-foot stack">{foot}</div>}
        </div>
      )}
    </dialog>
  );
}

export interface MenuItem {
  label: string;
  onPress: () => void;
  blocked?: string | undefined;
}

export interface MoreMenuProps {
  items: readonly MenuItem[];
  label?: string;
  /** "Back to the task" */
  closeLabel?: string;
}

/** *More*: everything that is not the main button, in words, each a 56 px target. */
export function MoreMenu({ items, label = "More", closeLabel = "Back" }: MoreMenuProps): JSX.Element {
  const [open, setOpen] = useState(false);
  const close = (): void => setOpen(false);
  return (
    <>
      <Button label={label} size={64} onPress={() => setOpen(true)} />
      <Dialog
        open={open}
        title={label}
        onClose={close}
        foot={<Button label={closeLabel} wide onPress={close} />}
      >
        <ul class="menu">
          {items.map((item) => (
            <li key={item.label}>
              <Button
                label={item.label}
                blocked={item.blocked}
                wide
                onPress={() => {
                  close();
                  item.onPress();
                }}
              />
            </li>
          ))}
        </ul>
      </Dialog>
    </>
  );
}

export interface WordsDialogProps {
  /** What stands in the field when it opens. */
  start?: string | undefined;
  title: string;
  /** What follows from it, before the words are asked for. */
  said: string;
  label: string;
  /** One line instead of several. */
  short?: boolean;
  confirmLabel: string;
  /** What is missing while nothing is typed: "write the reason". */
  missing: string;
  busy?: boolean;
  problem?: ComponentChildren;
  onConfirm: (words: string) => void;
  onClose: () => void;
}

/** An act that wants a few words of one's own. */
export function WordsDialog(props: WordsDialogProps): JSX.Element {
  const [words, setWords] = useState(props.start ?? "");
  const typed = words.trim();
  return (
    <Dialog
      open
      title={props.title}
      onClose={props.onClose}
      foot={<Button label="Leave it as it is" wide onPress={props.onClose} />}
    >
      <div class="stack">
        <p>{props.said}</p>
        <TextField
          label={props.label}
          value={words}
          onType={setWords}
          lines={props.short !== true}
          maxLength={props.short ? 200 : 2000}
        />
        {props.problem}
        <MainButton
          label={props.confirmLabel}
          blocked={typed ? (props.busy ? "one moment" : undefined) : props.missing}
          onPress={() => props.onConfirm(typed)}
        />
      </div>
    </Dialog>
  );
}

export interface ReasonPickerProps {
  /** "Why do you stop?" */
  question: string;
  reasons: readonly { key: string; word: string }[];
  chosen: string | undefined;
  onChoose: (key: string) => void;
  /** Own words, never required. */
  note: string;
  onNote: (note: string) => void;
  /** "Going home", "I am stuck": the same verb as the button that opened it. */
  confirmLabel: string;
  /** What still has to be said, where a reason alone is not enough. */
  blocked?: string | undefined;
  onConfirm: () => void;
  onLeave: () => void;
  /** A photo, what is loose, the tag on the car. */
  children?: ComponentChildren;
}

/** Ready-made reasons: open, press one, confirm. A form never blocks, so nothing is required. */
export function ReasonPicker(props: ReasonPickerProps): JSX.Element {
  return (
    <div class="stack-wide">
      <Choice
        legend={props.question}
        options={props.reasons}
        chosen={props.chosen}
        onChoose={props.onChoose}
      />
      {props.children}
      <TextField label="In your own words, if you like" value={props.note} onType={props.onNote} lines />
      <div class="stack">
        <MainButton label={props.confirmLabel} blocked={props.blocked} onPress={props.onConfirm} />
        <Button label="Leave it as it is" size={64} wide onPress={props.onLeave} />
      </div>
    </div>
  );
}
