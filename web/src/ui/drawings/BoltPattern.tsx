import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Bolt } from "./Bolt";
import { Drawing } from "./Drawing";

/** `kept` is done on this phone only: no witness paint before the service has answered. */
export type FastenerState = "to_do" | "next" | "done" | "kept" | "outside" | "crossed_out" | "run_in";

export interface DrawnFastener {
  number: number;
  /** -100 to 100, x to the right and y up, as seen from the stated side. */
  x: number;
  y: number;
  /** "lower left" */
  where: string;
  state: FastenerState;
  /** "24 N·m" or "clicked at 24 N·m" */
  reading?: string | undefined;
}

export interface BoltPatternProps {
  /** "Clutch cover to flywheel" */
  group: string;
  /** "gearbox": written as "seen from gearbox" in the middle. */
  seenFrom: string;
  /** What it is called from behind, for *Turn it round*: "the engine". */
  otherSide?: string | undefined;
  /** "top", "nose": what is up in the picture. */
  up: string;
  fasteners: readonly DrawnFastener[];
  /** "Pass 2 of 2" */
  pass: string;
  /** Nothing is tightened, the order itself is shown: bolt numbers, drawn as a way from bolt to bolt. */
  order?: readonly number[] | undefined;
  /** Given, the bolts can be pressed while their centres are 56 px or more apart. */
  onPress?: ((number: number) => void) | undefined;
}

/** More than twelve on a ring need the wider one to stay 56 px apart. */
const MANY = 12;
const MARGIN = 45;
const PRESS_PX = 56;

const STATE_WORDS: Record<FastenerState, string> = {
  to_do: "to do",
  next: "next",
  done: "done",
  kept: "done, on this phone only",
  outside: "outside the limits",
  crossed_out: "crossed out",
  run_in: "run in, NOT tight",
};

/** "Bolt 5, lower left: next." / "Bolt 2, upper right: 24 N·m, done." */
export function fastenerFact(fastener: DrawnFastener): string {
  const reading = fastener.reading === undefined ? "" : `${fastener.reading}, `;
  return `Bolt ${fastener.number}, ${fastener.where}: ${reading}${STATE_WORDS[fastener.state]}.`;
}

function scaleFor(fasteners: readonly DrawnFastener[]): number {
  return fasteners.length > MANY ? 1.3 : 1.08;
}

/** The least distance between two bolts of the group, in drawing px. */
export function leastDistance(fasteners: readonly DrawnFastener[]): number {
  const scale = scaleFor(fasteners);
  let least = Number.POSITIVE_INFINITY;
  fasteners.forEach((a, i) => {
    for (const b of fasteners.slice(i + 1)) {
      least = Math.min(least, Math.hypot(a.x - b.x, a.y - b.y) * scale);
    }
  });
  return least;
}

/** One bolt group, drawn as seen from a stated side. *Turn it round* mirrors the picture, never the numbers. */
export function BoltPattern(props: BoltPatternProps): JSX.Element {
  const [turned, setTurned] = useState(false);
  const { fasteners } = props;
  const scale = scaleFor(fasteners);
  const ys = fasteners.map((f) => f.y);
  const top = Math.max(40, ...ys);
  const bottom = Math.min(-40, ...ys);
  const width = 2 * (100 * scale + MARGIN);
  const drawn = (top - bottom) * scale + 2 * MARGIN;
  // What the picture shows stands in its middle, or under it where a bolt is in the way.
  const middleTaken = fasteners.some((f) => Math.abs(f.x) < 75 && Math.abs(f.y) < 55);
  const height = drawn + (middleTaken ? 72 : 0);
  const centre = { x: width / 2, y: MARGIN + top * scale };
  const wordsAt = middleTaken ? drawn + 16 : centre.y - 16;
  const place = (f: DrawnFastener): { x: number; y: number } => ({
    x: centre.x + (turned ? -f.x : f.x) * scale,
    y: centre.y - f.y * scale,
  });
  const seen = turned ? (props.otherSide ?? "the other side") : props.seenFrom;
  const next = fasteners.find((f) => f.state === "next");
  const done = fasteners.filter((f) => f.state === "done").length;
  const description =
    `Seen from ${seen}, ${props.up} is up. ${props.pass}.` +
    (props.order === undefined ? ` ${done} of ${fasteners.length} done.` : "") +
    (next === undefined ? "" : ` Next is bolt ${next.number}, ${next.where}.`);
  const pressable = props.onPress !== undefined && leastDistance(fasteners) >= PRESS_PX;
  return (
    <div class={fasteners.length > MANY ? "bolt-pattern bolt-pattern-many" : "bolt-pattern"}>
      <Drawing
        title={props.group}
        description={description}
        facts={
          props.order?.map((bolt, index) => `${index + 1}: bolt ${bolt}`) ?? [
            `Places are named as seen from ${props.seenFrom}.`,
            ...fasteners.map(fastenerFact),
          ]
        }
        viewBox={`0 0 ${width} ${height}`}
        over={
          pressable &&
          fasteners.map((f) => (
            <button
              key={f.number}
              type="button"
              class="drawing-press"
              aria-label={fastenerFact(f)}
              style={{ left: `${(place(f).x / width) * 100}%`, top: `${(place(f).y / height) * 100}%` }}
              onClick={() => props.onPress?.(f.number)}
            />
          ))
        }
        foot={
          <button
            type="button"
            class="button button-plain button-48"
            aria-pressed={turned}
            onClick={() => setTurned(!turned)}
          >
            Turn it round
          </button>
        }
      >
        <g>
          <Way
            places={(props.order ?? []).flatMap((n) => fasteners.filter((f) => f.number === n)).map(place)}
          />
          <path class="d-ink" d={`M${centre.x - 34} ${wordsAt} v-15 m-6 7 l6 -7 l6 7`} stroke-width="2.5" />
          <text x={centre.x + 6} y={wordsAt} text-anchor="middle" class="d-dim">
            {props.up}
          </text>
          <text x={centre.x} y={wordsAt + 22} text-anchor="middle" class="d-dim">
            seen from
          </text>
          <text x={centre.x} y={wordsAt + 44} text-anchor="middle" class="d-dim">
            {seen}
          </text>
          {fasteners.map((f) => (
            <Bolt key={f.number} fastener={f} at={place(f)} centre={centre} />
          ))}
        </g>
      </Drawing>
      {turned && (
        <p class="t-small" role="status">
          Turned round: bolts are still numbered, and places named, as seen from {props.seenFrom}.
        </p>
      )}
    </div>
  );
}

/** Long dashes from bolt to bolt, under them. */
function Way({ places }: { places: readonly { x: number; y: number }[] }): JSX.Element | null {
  if (places.length < 2) return null;
  return (
    <path class="d-line" d={`M${places.map((at) => `${at.x} ${at.y}`).join(" L")}`} stroke-dasharray="10 6" />
  );
}
