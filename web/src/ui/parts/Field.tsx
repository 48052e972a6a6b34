import type { ComponentChildren, JSX } from "preact";
import { useId } from "preact/hooks";

export interface FieldProps {
  label: string;
  help?: string | undefined;
  /** What is wrong and what to type instead; drawn as a bar at the left and this sentence. */
  wrong?: string | undefined;
  /** Gets the ids that tie the control to its label, help and sentence. */
  children: (ids: { id: string; describedBy: string | undefined; invalid: boolean }) => ComponentChildren;
}

/** A label, a control, and the sentence that helps when it is wrong. */
export function Field({ label, help, wrong, children }: FieldProps): JSX.Element {
  const id = useId();
  const said = [help === undefined ? "" : `${id}-help`, wrong === undefined ? "" : `${id}-wrong`]
    .filter((part) => part !== "")
    .join(" ");
  return (
    <div class={wrong === undefined ? "field" : "field field-wrong"}>
      <label class="field-label" for={id}>
        {label}
      </label>
      {help !== undefined && (
        <p class="field-help" id={`${id}-help`}>
          {help}
        </p>
      )}
      {children({ id, describedBy: said === "" ? undefined : said, invalid: wrong !== undefined })}
      {wrong !== undefined && (
        <p class="field-sentence" id={`${id}-wrong`}>
          {wrong}
        </p>
      )}
    </div>
  );
}

export interface TextFieldProps extends Omit<FieldProps, "children"> {
  value: string;
  onType: (value: string) => void;
  kind?: "text" | "search" | "date" | "time" | "datetime-local" | "email" | "password";
  /** Several lines. */
  lines?: boolean;
  maxLength?: number;
  autocomplete?: string;
  onEnter?: () => void;
}

/** One line of words, or several. For measured numbers use the keypads. */
export function TextField(props: TextFieldProps): JSX.Element {
  return (
    <Field label={props.label} help={props.help} wrong={props.wrong}>
      {({ id, describedBy, invalid }) => {
        const common = {
          id,
          class: "text-input",
          value: props.value,
          maxLength: props.maxLength,
          "aria-describedby": describedBy,
          "aria-invalid": invalid,
        };
        return props.lines === true ? (
          <textarea {...common} onInput={(e) => props.onType(e.currentTarget.value)} />
        ) : (
          <input
            {...common}
            type={props.kind ?? "text"}
            autocomplete={props.autocomplete ?? "off"}
            onInput={(e) => props.onType(e.currentTarget.value)}
            onKeyDown={(e) => {
              if (e.key === "Enter") props.onEnter?.();
            }}
          />
        );
      }}
    </Field>
  );
}

/** What a file input does: hands the file on and forgets it, so that the same one can be chosen again. */
export function handOn(onFile: (file: File) => void): (event: JSX.TargetedEvent<HTMLInputElement>) => void {
  return (event) => {
    const input = event.currentTarget;
    const file = input.files?.[0];
    if (file) onFile(file);
    input.value = "";
  };
}

/** A file of this phone. */
export function FileField(props: {
  label: string;
  accept: string;
  onFile: (file: File) => void;
}): JSX.Element {
  return (
    <label class="field">
      <span class="field-label">{props.label}</span>
      <input class="text-input" type="file" accept={props.accept} onChange={handOn(props.onFile)} />
    </label>
  );
}
