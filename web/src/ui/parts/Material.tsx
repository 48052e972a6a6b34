import type { ComponentChildren, JSX } from "preact";
import { Stub } from "./Stub";

export interface TapeStripProps {
  /** "Run in, NOT tight", "Unplugged", "Dropped" */
  kind: string;
  what: string;
  where?: string | undefined;
  /** "Made good by T506, step 4. Ines has it." */
  restoring?: string | undefined;
  /** "Aled, Tuesday 19:40" */
  openedBy?: string | undefined;
  stub?: string | undefined;
  /** *Made good* where its restoring step allows, else *Open T506*. */
  action?: ComponentChildren;
}

function TapeEnd({ side }: { side: "left" | "right" }): JSX.Element {
  return (
    <svg
      class={`tape-end tape-end-${side}`}
      viewBox="0 0 16 96"
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <path
        d="M9 0 L4 8 L10 17 L3 26 L9 36 L2 46 L10 55 L4 65 L11 74 L3 84 L9 96"
        vector-effect="non-scaling-stroke"
      />
    </svg>
  );
}

/** A loose end is a strip of masking tape: torn ends, no eyelet. */
export function TapeStrip(props: TapeStripProps): JSX.Element {
  return (
    <article class="tape">
      <TapeEnd side="left" />
      <TapeEnd side="right" />
      <p class="tape-kind">{props.kind}</p>
      <p class="tape-what">{props.what}</p>
      {props.where !== undefined && <p class="tape-second">{props.where}</p>}
      {props.restoring !== undefined && <p class="tape-second">{props.restoring}</p>}
      {props.openedBy !== undefined && <p class="tape-second">{props.openedBy}</p>}
      {props.stub !== undefined && (
        <div>
          <Stub word={props.stub} />
        </div>
      )}
      {props.action !== undefined && <div class="tape-action">{props.action}</div>}
    </article>
  );
}

export interface SnagProps {
  number: string;
  what: string;
  where?: string | undefined;
  /** "Found by Kofi, Saturday. Before first drive." */
  second?: string | undefined;
  action?: ComponentChildren;
}

/** A snag is a chalk ring round the place. */
export function Snag({ number, what, where, second, action }: SnagProps): JSX.Element {
  return (
    <article class="snag">
      <svg class="snag-ring" viewBox="0 0 72 60" aria-hidden="true">
        <path
          d="M20 6 C42 -3 70 8 69 30 C68 52 42 60 22 54 C0 47 -2 20 16 8"
          stroke-width="3"
          stroke-dasharray="14 1.5 6 1"
        />
        <path d="M14 10 C32 1 62 3 66 24" stroke-width="1.5" stroke-dasharray="5 2" />
        <text x="35" y="37">
          {number}
        </text>
      </svg>
      <div class="snag-words">
        <p>{what}</p>
        {where !== undefined && <p class="tape-second">{where}</p>}
        {second !== undefined && <p class="tape-second">{second}</p>}
        {action !== undefined && <div class="tape-action">{action}</div>}
      </div>
    </article>
  );
}

export type ToolShape = "torque_wrench" | "spanner" | "socket" | "crane" | "stand" | "other";

export interface ShadowToolProps {
  name: string;
  /** Where it hangs: "Board 2, row 3". */
  place: string;
  state: "in" | "out" | "unfit";
  shape?: ToolShape;
  /** "Aled has it since 10:20", "12 days past its check", "no 15 mm socket". */
  second?: string | undefined;
  action?: ComponentChildren;
}

const SHAPES: Record<ToolShape, string> = {
  torque_wrench:
    "M15 4 A10 10 0 1 0 21 22 L38 39 L36 42 L51 58 A5.5 5.5 0 0 0 59 50 L43 35 L40 37 L23 20 A10 10 0 0 0 15 4 Z",
  spanner:
    "M10 4 v10 l6 6 l10 -2 L46 42 l-2 8 l8 10 v-9 l5 -3 l4 3 a10 10 0 0 0 -13 -14 L27 16 A10 10 0 0 0 10 4 z",
  socket: "M16 10 h32 v22 h-6 v22 h-20 v-22 h-6 z",
  crane: "M8 58 h44 v-5 h-28 L20 30 L54 14 v14 h4 V8 L18 22 L16 53 H8 z",
  stand: "M28 6 h8 v14 l16 38 h-8 l-5 -12 h-14 l-5 12 h-8 l16 -38 z",
  other: "M12 12 h40 v40 h-40 z",
};
const STATE_WORD = { in: "in its place", out: "out", unfit: "unfit" } as const;

/** A tool in its place is solid; one that is out is only the outline on the shadow board. */
export function ShadowTool(props: ShadowToolProps): JSX.Element {
  const { state, shape = "other" } = props;
  return (
    <article class={`tool tool-${state}`}>
      <svg class="tool-shape" viewBox="0 0 64 64" aria-hidden="true">
        <path d={SHAPES[shape]} />
        {state === "unfit" && <path d="M4 60 L60 4" />}
      </svg>
      <div class="tool-words">
        <p>
          {props.name} · {STATE_WORD[state]}
        </p>
        <p class="tape-second">{props.place}</p>
        {props.second !== undefined && <p class="tape-second">{props.second}</p>}
        {props.action !== undefined && <div class="tape-action">{props.action}</div>}
      </div>
    </article>
  );
}
