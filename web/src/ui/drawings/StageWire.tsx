import type { ComponentChildren, JSX } from "preact";
import { useId } from "preact/hooks";
import type { TagState } from "../parts/Tag";

export interface StageMark {
  number: string;
  state: TagState;
  lit?: boolean;
}

export interface StageWireProps {
  /** "S05" */
  stage: string;
  name: string;
  /** In working order. */
  marks: readonly StageMark[];
  closed: number;
  /** "Ines has T506" */
  holders?: readonly string[];
  open: boolean;
  onToggle: () => void;
  /** The same tasks as tags. */
  children?: ComponentChildren;
}

/** One stage: a wire with its tasks hung along it. Marks are pictures; the target is the row. */
export function StageWire(props: StageWireProps): JSX.Element {
  const id = useId();
  return (
    <section class="stage">
      <button
        type="button"
        class="stage-row"
        aria-expanded={props.open}
        aria-controls={props.open ? id : undefined}
        onClick={props.onToggle}
      >
        <span class="t-stencil">{props.stage}</span>
        <span class="stage-name">{props.name}</span>
        <span class="stage-count">
          {props.closed} of {props.marks.length} closed
        </span>
        <span class="stage-wire" aria-hidden="true">
          {props.marks.map((mark) => (
            <Mark key={mark.number} mark={mark} />
          ))}
        </span>
        {props.holders !== undefined && props.holders.length > 0 && (
          <span class="stage-holders">{props.holders.join(" · ")}</span>
        )}
      </button>
      {props.open && (
        <div class="stage-inside" id={id}>
          {props.children}
        </div>
      )}
    </section>
  );
}

const PAPER = "M12 12 H24 L30 18 V38 H6 V18 Z";

function Mark({ mark }: { mark: StageMark }): JSX.Element {
  const { state, lit = false } = mark;
  const dashed = state === "waiting" || state === "stuck" || state === "left_out";
  return (
    <svg class="stage-mark drawing-picture" viewBox="0 0 36 40" aria-hidden="true">
      <path class="d-wire" d="M0 4 H36 M18 4 V12" />
      <path
        d={PAPER}
        fill={lit ? "var(--lit)" : "var(--tag)"}
        stroke-dasharray={dashed ? "4 3" : state === "not_for_you" ? "1 3.5" : undefined}
        stroke-width={lit ? 3 : 2}
      />
      {state === "stuck" ? (
        <path d="M15 20 a4.5 4.5 0 1 0 .1 0 M18 33 h9 v-9 z" />
      ) : (
        <circle
          cx="18"
          cy="20"
          r="3.5"
          stroke-dasharray={state === "waiting" ? "2 2" : undefined}
          stroke={lit ? "var(--on-lit)" : undefined}
        />
      )}
      {state === "taken" && (
        <path d="M4 12 C10 14 14 18 18 20 L26 27" stroke={lit ? "var(--on-lit)" : undefined} />
      )}
      {state === "check_due" && <path d="M13 35 L24 25" stroke="var(--witness)" stroke-width="4" />}
      {state === "closed" && (
        <path d="M16 37 L36 22" stroke="var(--witness)" stroke-width="4.5" stroke-linecap="round" />
      )}
      {state === "ready_undone" && (
        <path d="M11 37 L18 31 M24 26 L32 20" stroke="var(--witness)" stroke-width="4" />
      )}
      {state === "left_out" && <path d="M6 24 H30 M6 30 H30" />}
    </svg>
  );
}
