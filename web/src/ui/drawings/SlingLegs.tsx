import type { JSX } from "preact";
import { Drawing } from "./Drawing";
import { angleArc, between, type Point, slingShape } from "./slingShape";

export interface SlingLegsProps {
  title: string;
  /** Level distances from under the hook, and the rise, in any one unit; near is the nearer foot. */
  near: number;
  far: number;
  rise: number;
  /** Which angle the words name: from the level, or from straight down. */
  angleTo: "horizontal" | "vertical";
  /** "60°", at each foot or at the hook. */
  near_angle: string;
  far_angle: string;
  /** "107.4 kg", along each leg. */
  near_words: string;
  far_words: string;
  /** "186 kg", on the load. */
  load: string;
  facts: readonly string[];
}

const WIDTH = 358;
const FIELD = { left: 62, top: 46, width: 234, height: 190 };
const LOAD_HEIGHT = 44;

/** A load on the hook by two legs, seen from the side: angles as the rule counts them, the pull along each leg. */
export function SlingLegs(props: SlingLegsProps): JSX.Element {
  const { hook, near, far } = slingShape(props, FIELD);
  const straight = far.x - near.x < 1;
  const left = straight ? hook.x - 60 : near.x - 14;
  const right = straight ? hook.x + 60 : far.x + 14;
  const height = near.y + LOAD_HEIGHT + 8;
  const down = { x: hook.x, y: near.y };
  return (
    <Drawing
      title={props.title}
      description={props.facts.join(" ")}
      facts={props.facts}
      viewBox={`0 0 ${WIDTH} ${height}`}
    >
      <path class="d-ink" d={`M${hook.x} 4 V22 a11 11 0 1 1 -11 11`} stroke-width="4" />
      <path class="d-dash" d={`M${hook.x} ${hook.y} V${near.y}`} stroke-width="1.5" />
      <rect class="d-paper" x={left} y={near.y} width={right - left} height={LOAD_HEIGHT} />
      {[near, far].map((foot, i) => (
        <g key={i}>
          <path class="d-ink" d={`M${hook.x} ${hook.y} L${foot.x} ${foot.y}`} stroke-width="3.5" />
          <circle class="d-solid" cx={foot.x} cy={foot.y} r="5" />
        </g>
      ))}
      {!straight && props.angleTo === "horizontal" && (
        <>
          <Angle corner={near} from={down} to={hook} words={props.near_angle} />
          <Angle corner={far} from={down} to={hook} words={props.far_angle} />
        </>
      )}
      {!straight && props.angleTo === "vertical" && (
        <>
          <Angle corner={hook} from={down} to={near} words={props.near_angle} />
          <Angle corner={hook} from={down} to={far} words={props.far_angle} />
        </>
      )}
      <LegWords from={hook} to={near} words={props.near_words} side={-1} />
      {!straight && <LegWords from={hook} to={far} words={props.far_words} side={1} />}
      <text x={(left + right) / 2} y={near.y + 28} text-anchor="middle" class="d-in d-bold">
        {props.load}
      </text>
    </Drawing>
  );
}

/** The pull, outside the leg at its middle. */
function LegWords(props: { from: Point; to: Point; words: string; side: 1 | -1 }): JSX.Element {
  const { from, to, side } = props;
  const x = (from.x + to.x) / 2 + side * 12;
  return (
    <text x={x} y={(from.y + to.y) / 2} text-anchor={side < 0 ? "end" : "start"} class="d-bold">
      {props.words}
    </text>
  );
}

const ARC = 34;

function Angle(props: { corner: Point; from: Point; to: Point; words: string }): JSX.Element {
  const { corner, from, to } = props;
  const at = between(corner, from, to, ARC + 26);
  return (
    <g>
      <path class="d-line" d={angleArc(corner, from, to, ARC)} />
      <text x={at.x} y={at.y + 6} text-anchor="middle" class="d-dim">
        {props.words}
      </text>
    </g>
  );
}
