import type { JSX } from "preact";
import { FLAG_ORDER, type FlagKind, flagShape } from "./flagShapes";

export interface FlagData {
  kind: FlagKind;
  /** Always written beside the drawing: "2 pairs of hands", "Waiting: T507". */
  word: string;
  /** For `hands` and `lift`: how many bows the yoke has, 1 to 4. */
  people?: number;
}

const SIGNALS: readonly FlagKind[] = ["danger", "warning", "caution"];

/** A 24 px drawing and its word. The drawing alone is never enough. */
export function Flag({ kind, word, people = 2 }: FlagData): JSX.Element {
  const signal = SIGNALS.includes(kind) ? ` flag-signal flag-signal-${kind}` : "";
  return (
    <span class="flag">
      <svg class={`flag-drawing${signal}`} viewBox="0 0 24 24" aria-hidden="true">
        {flagShape(kind, people)}
      </svg>
      <span>{word}</span>
    </span>
  );
}

export interface FlagListProps {
  flags: readonly FlagData[];
  /** At most so many, then "and 2 more"; leave out to show all. */
  most?: number;
}

/** Flags in their fixed order; on a queue tag at most three. */
export function FlagList({ flags, most }: FlagListProps): JSX.Element | null {
  if (flags.length === 0) return null;
  const ordered = [...flags].sort((a, b) => FLAG_ORDER.indexOf(a.kind) - FLAG_ORDER.indexOf(b.kind));
  const shown = most === undefined ? ordered : ordered.slice(0, most);
  const left = ordered.length - shown.length;
  return (
    <ul class="flags">
      {shown.map((flag) => (
        <li key={`${flag.kind}-${flag.word}`}>
          <Flag {...flag} />
        </li>
      ))}
      {left > 0 && <li class="flag">and {left} more</li>}
    </ul>
  );
}
