import type { JSX } from "preact";
import { timeOfDay } from "../words/times";
import { Drawing, useWidth } from "./Drawing";

export interface DayBlock {
  /** "T605" */
  label: string;
  /** Minutes after midnight, local to the garage. */
  from_min: number;
  to_min: number;
  /** company: in the garage beside it, so that nobody is alone, and not at work. A thin bar without a name. */
  state: "planned" | "taken" | "done" | "company";
  /** Instead of label and state, in the list: "can come". */
  say?: string;
  /** It carries the finish: no minute of it may slip. Drawn with a bar beneath. */
  chain?: boolean;
}

export interface DayPerson {
  key: string;
  name: string;
  blocks: readonly DayBlock[];
}

export interface DayLift {
  label: string;
  from_min: number;
  to_min: number;
  /** Keys of the persons in it. */
  persons: readonly string[];
}

export interface DayStripProps {
  /** "Saturday 28 November" */
  day: string;
  from_min: number;
  to_min: number;
  breaks?: readonly { from_min: number; to_min: number; word: string }[];
  persons: readonly DayPerson[];
  lifts?: readonly DayLift[];
  now_min?: number | undefined;
  /** Under 700 px my own day is read first, as a list. */
  me?: string | undefined;
}

const ROW = 76;
const BLOCK = 44;
const HEAD = 30;
const CHAR_PX = 11;

function dayFacts(person: DayPerson, lifts: readonly DayLift[]): string {
  const own = [
    ...person.blocks.map((b) => ({
      ...b,
      word:
        b.state === "company"
          ? `in the garage beside ${b.label}`
          : (b.say ?? `${b.label} ${b.state}${b.chain === true ? ", carries the finish" : ""}`),
    })),
    ...lifts.filter((l) => l.persons.includes(person.key)).map((l) => ({ ...l, word: `lift ${l.label}` })),
  ].sort((a, b) => a.from_min - b.from_min);
  if (own.length === 0) return `${person.name}: nothing yet.`;
  return `${person.name}: ${own.map((b) => `${timeOfDay(b.from_min)} to ${timeOfDay(b.to_min)} ${b.word}`).join("; ")}.`;
}

/** The day, one row per person; a lift is a block in each row, tied by one thick bar. */
export function DayStrip(props: DayStripProps): JSX.Element {
  const { box, width } = useWidth(358);
  const { persons, lifts = [], breaks = [] } = props;
  const x = (min: number): number => ((min - props.from_min) / (props.to_min - props.from_min)) * width;
  const height = HEAD + persons.length * ROW;
  const hourStep = width / ((props.to_min - props.from_min) / 60) < 50 ? 2 : 1;
  const hours: number[] = [];
  for (let h = Math.ceil(props.from_min / 60); h * 60 < props.to_min; h += hourStep) hours.push(h);
  const rowTop = (i: number): number => HEAD + i * ROW;
  const mine = persons.find((p) => p.key === props.me);
  const facts = persons.map((p) => dayFacts(p, lifts));
  return (
    <div ref={box} class="stack drawing-measured">
      {width < 700 && mine !== undefined && <p>{dayFacts(mine, lifts)}</p>}
      <Drawing
        title={`${props.day}, who does what`}
        description={`${persons.length} people from ${timeOfDay(props.from_min)} to ${timeOfDay(props.to_min)}, ${lifts.length} lifts.`}
        facts={facts}
        viewBox={`0 0 ${width} ${height}`}
      >
        {breaks.map((b) => (
          <rect
            key={b.from_min}
            x={x(b.from_min)}
            y={HEAD}
            width={x(b.to_min) - x(b.from_min)}
            height={height - HEAD}
            fill="var(--bench)"
          />
        ))}
        {hours.map((h) => (
          <g key={h}>
            <path class="d-line" d={`M${x(h * 60)} ${HEAD - 4} V${height}`} stroke-dasharray="1 7" />
            <text x={x(h * 60)} y="18" class="d-dim" text-anchor={x(h * 60) < 14 ? "start" : "middle"}>
              {h}
            </text>
          </g>
        ))}
        {lifts.map((lift) => (
          <LiftTie key={lift.label} lift={lift} persons={persons} x={x} rowTop={rowTop} />
        ))}
        {persons.map((person, i) => (
          <g key={person.key}>
            {person.blocks.map((block) => (
              <Block key={`${block.label}-${block.from_min}`} block={block} x={x} top={rowTop(i) + 27} />
            ))}
          </g>
        ))}
        {props.now_min !== undefined && (
          <path d={`M${x(props.now_min)} ${HEAD - 6} V${height}`} stroke="var(--ground)" stroke-width="7" />
        )}
        {props.now_min !== undefined && (
          <path
            class="d-ink"
            d={`M${x(props.now_min)} ${HEAD - 6} V${height}`}
            stroke-dasharray="2 7"
            stroke-linecap="round"
          />
        )}
        {persons.map((person, i) => (
          <g key={person.key}>
            {person.blocks.map((block) => (
              <BlockLabel key={`${block.label}-${block.from_min}`} block={block} x={x} top={rowTop(i) + 27} />
            ))}
          </g>
        ))}
        {persons.map((person, i) => (
          // Last, on its halo: neither the line of now nor a lift's tie runs through a name.
          <text
            key={person.key}
            x="0"
            y={rowTop(i) + 20}
            class={person.key === props.me ? "d-bold" : undefined}
          >
            {person.name}
          </text>
        ))}
      </Drawing>
    </div>
  );
}

function Block({ block, x, top }: { block: DayBlock; x: (min: number) => number; top: number }): JSX.Element {
  const left = x(block.from_min) + 1;
  const width = x(block.to_min) - x(block.from_min) - 2;
  const lit = block.state === "taken";
  if (block.state === "company") {
    return (
      <rect
        class="d-paper"
        x={left}
        y={top + BLOCK / 2 - 6}
        width={width}
        height="12"
        stroke-dasharray="2 6"
      />
    );
  }
  return (
    <g>
      <rect
        class={lit ? "d-lit" : "d-paper"}
        x={left}
        y={top}
        width={width}
        height={BLOCK}
        stroke-dasharray={block.state === "planned" ? "6 4" : undefined}
      />
      {block.chain === true && (
        <path class="d-ink" d={`M${left} ${top + BLOCK + 4} h${width}`} stroke-width="5" />
      )}
      {block.state === "done" && (
        <path class="d-ink" d={`M${left + width - 12} ${top + BLOCK - 6} l4 4 l7 -12`} stroke-width="2.5" />
      )}
    </g>
  );
}

/** Only where it fits; over the line of now, which would cut a letter off. */
function BlockLabel({
  block,
  x,
  top,
}: {
  block: DayBlock;
  x: (min: number) => number;
  top: number;
}): JSX.Element | null {
  const width = x(block.to_min) - x(block.from_min) - 2;
  if (block.state === "company" || block.label.length * CHAR_PX + 8 > width) return null;
  return (
    <text
      x={x(block.from_min) + 1 + width / 2}
      y={top + 29}
      text-anchor="middle"
      class={block.state === "taken" ? "d-on-lit" : "d-in"}
    >
      {block.label}
    </text>
  );
}

interface LiftTieProps {
  lift: DayLift;
  persons: readonly DayPerson[];
  x: (min: number) => number;
  rowTop: (i: number) => number;
}

function LiftTie({ lift, persons, x, rowTop }: LiftTieProps): JSX.Element {
  const rows = persons.flatMap((p, i) => (lift.persons.includes(p.key) ? [i] : []));
  const first = rows[0] ?? 0;
  const last = rows[rows.length - 1] ?? 0;
  const left = x(lift.from_min);
  const width = x(lift.to_min) - left;
  const middle = left + width / 2;
  return (
    <g>
      <path class="d-ink" d={`M${middle} ${rowTop(first) + 40} V${rowTop(last) + 50}`} stroke-width="9" />
      {rows.map((i) => (
        <g key={i}>
          <rect
            class="d-paper"
            x={left + 1}
            y={rowTop(i) + 27}
            width={width - 2}
            height={BLOCK}
            stroke-width="5"
          />
          {lift.label.length * CHAR_PX + 8 <= width && (
            <text x={middle} y={rowTop(i) + 56} text-anchor="middle" class="d-in d-bold">
              {lift.label}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}
