import type { JSX } from "preact";
import type { DrawnFastener } from "./BoltPattern";

interface Point {
  x: number;
  y: number;
}

const RADIUS = 21;

function hexagon(at: Point, radius: number): string {
  return Array.from({ length: 6 }, (_, i) => {
    const angle = (Math.PI / 3) * i;
    return `${at.x + radius * Math.cos(angle)},${at.y + radius * Math.sin(angle)}`;
  }).join(" ");
}

/** Away from the middle of the group, so that paint and dots never cover a neighbour. */
function outward(at: Point, centre: Point): Point {
  const length = Math.hypot(at.x - centre.x, at.y - centre.y);
  return length < 1 ? { x: 0, y: -1 } : { x: (at.x - centre.x) / length, y: (at.y - centre.y) / length };
}

/** One bolt in its state; bolt 1 carries the paint dot the group is counted from. */
export function Bolt({
  fastener,
  at,
  centre,
}: {
  fastener: DrawnFastener;
  at: Point;
  centre: Point;
}): JSX.Element {
  const { number, state } = fastener;
  const out = outward(at, centre);
  const dot = { x: at.x + out.x * 34 - out.y * 17, y: at.y + out.y * 34 + out.x * 17 };
  return (
    <g>
      {shape(fastener, at, out)}
      <text
        x={at.x}
        y={at.y + (state === "next" ? 12 : 7)}
        text-anchor="middle"
        class={state === "next" ? "d-on-lit d-bold" : "d-in d-bold"}
        font-size={state === "next" ? 34 : 20}
      >
        {number}
      </text>
      {state === "crossed_out" && (
        <path
          class="d-ink"
          d={`M${at.x - 24} ${at.y - 1} l48 -11 M${at.x - 24} ${at.y + 10} l48 -11`}
          stroke-width="2"
        />
      )}
      {number === 1 && <circle class="d-solid" cx={dot.x} cy={dot.y} r="5" />}
    </g>
  );
}

function shape({ state }: DrawnFastener, at: Point, out: Point): JSX.Element {
  const line = (from: number, to: number): string =>
    `M${at.x + out.x * from} ${at.y + out.y * from} L${at.x + out.x * to} ${at.y + out.y * to}`;
  switch (state) {
    case "next":
      return (
        <>
          <circle class="d-ink" cx={at.x} cy={at.y} r={RADIUS + 11} />
          <circle class="d-lit" cx={at.x} cy={at.y} r={RADIUS + 4} />
        </>
      );
    case "done":
      return (
        <>
          <polygon class="d-paper" points={hexagon(at, RADIUS)} />
          <path class="d-paint" d={line(13, 40)} />
        </>
      );
    case "kept":
      return (
        <>
          <polygon class="d-paper" points={hexagon(at, RADIUS)} />
          <path
            class="d-ink"
            d={`M${at.x + out.x * 40 - 10} ${at.y + out.y * 40 - 7} h16 l4 3 l-4 3 l4 3 l-4 3 l3 2 h-19 z`}
          />
        </>
      );
    case "outside":
      return (
        <>
          <polygon class="d-out" points={hexagon(at, RADIUS + 2)} />
          <text class="d-out-word" x={at.x} y={at.y + RADIUS + 20} text-anchor="middle">
            OUT
          </text>
        </>
      );
    case "run_in":
      return (
        <>
          <circle class="d-line" cx={at.x} cy={at.y} r={RADIUS} />
          <circle class="d-ink" cx={at.x + out.x * 33} cy={at.y + out.y * 33} r="6" />
        </>
      );
    case "to_do":
    case "crossed_out":
      return <polygon class="d-line" points={hexagon(at, RADIUS)} />;
  }
}
