import type { JSX } from "preact";
import { beltPath, frame, type PulleyShape, straights } from "./beltShape";
import { Drawing } from "./Drawing";
import { MM, type Scale, said } from "./scale";
import type { Point } from "./slingShape";

export interface DrawnPulley extends PulleyShape {
  name: string;
  wrap_deg: number;
  /** Free length to the next pulley, mm. */
  straight_mm: number;
  /** What is wrong with its wrap, or empty. */
  warning: string;
}

export interface BeltPathProps {
  title: string;
  /** In the belt's order, counter-clockwise, mm. */
  pulleys: readonly DrawnPulley[];
  /** Unit of the words, where it is another than millimetres. */
  length?: Scale | undefined;
}

const FIELD = { width: 358, height: 460, margin: 54 };
const LONGEST_NAME = 12;

function degrees(deg: number): string {
  return `${Math.round(deg)}°`;
}

/** "Idler, at the belt's back: belt touches 121°, then 224 mm to crank." */
export function pulleyFact(pulley: DrawnPulley, next: string, length: Scale = MM): string {
  const kind = pulley.back ? ", at the belt's back" : "";
  const warning = pulley.warning === "" ? "" : `; ${pulley.warning}`;
  return `${pulley.name}${kind}: belt touches ${degrees(pulley.wrap_deg)}, then ${said(length === MM ? Math.round(pulley.straight_mm) : pulley.straight_mm, length)} to ${next}${warning}.`;
}

/** The belt seen from the front, in the order given. Idlers at its back are dashed and say so. */
export function BeltPath({ title, pulleys, length }: BeltPathProps): JSX.Element {
  const at = frame(pulleys, FIELD);
  const middle = pulleys.reduce((sum, one) => sum + one.y, 0) / pulleys.length;
  const facts = pulleys.map((one, i) =>
    pulleyFact(one, pulleys[(i + 1) % pulleys.length]?.name ?? "", length),
  );
  return (
    <Drawing
      title={title}
      description={`Seen from the front, arrows in the order given. ${facts.join(" ")}`}
      facts={facts}
      viewBox={`0 0 ${at.width} ${at.height}`}
    >
      {pulleys.map((one) => {
        const centre = at.place(one);
        return (
          <g key={one.name}>
            <circle
              class={one.back ? "d-dash" : "d-paper"}
              cx={centre.x}
              cy={centre.y}
              r={Math.max(1, one.radius * at.scale - 3)}
            />
            <circle class="d-solid" cx={centre.x} cy={centre.y} r="3" />
          </g>
        );
      })}
      <path
        class="d-ink"
        d={beltPath(
          pulleys,
          pulleys.map((one) => one.wrap_deg),
          at,
        )}
        stroke-width="5"
        stroke-linejoin="round"
      />
      {straights(pulleys).map((way, i) => (
        <Arrow key={i} from={at.place(way.from)} to={at.place(way.to)} />
      ))}
      {pulleys.map((one) => (
        <PulleyWords
          key={one.name}
          pulley={one}
          at={at.place(one)}
          radius={one.radius * at.scale}
          upper={one.y > middle}
          width={at.width}
        />
      ))}
    </Drawing>
  );
}

interface PulleyWordsProps {
  pulley: DrawnPulley;
  at: Point;
  radius: number;
  /** Above the middle of all pulleys: words that do not fit in go over it, else under it. */
  upper: boolean;
  width: number;
}

function PulleyWords({ pulley, at, radius, upper, width }: PulleyWordsProps): JSX.Element {
  const name = pulley.name.length > LONGEST_NAME ? `${pulley.name.slice(0, LONGEST_NAME - 1)}…` : pulley.name;
  const second = `${pulley.back ? "back, " : ""}${degrees(pulley.wrap_deg)}`;
  const reach = Math.max(name.length, second.length) * 5 + 4; // half of what the words take
  const x = Math.min(width - reach, Math.max(reach, at.x));
  const outside = upper ? at.y - radius - 32 : at.y + radius + 24;
  const y = radius < reach + 4 || radius < 32 ? outside : at.y - 8;
  return (
    <g>
      <text x={x} y={y} text-anchor="middle" class="d-bold">
        {name}
      </text>
      <text
        x={x}
        y={y === outside ? y + 21 : at.y + 22}
        text-anchor="middle"
        class={pulley.warning === "" ? "d-dim" : "d-out-word"}
      >
        {second}
        {pulley.warning === "" ? "" : ": too little"}
      </text>
    </g>
  );
}

/** The way the belt runs, at the middle of a straight. */
function Arrow({ from, to }: { from: Point; to: Point }): JSX.Element {
  const turn = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
  return (
    <path
      class="d-solid"
      d="M-9 -10 L11 0 L-9 10 Z"
      transform={`translate(${(from.x + to.x) / 2} ${(from.y + to.y) / 2}) rotate(${turn})`}
    />
  );
}
