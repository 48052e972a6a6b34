import type { JSX } from "preact";
import type { DrawnHelper } from "./LiftFromAbove";
import { type Scale, said } from "./scale";

interface Point {
  x: number;
  y: number;
}

/** A person is a circle with initials, mine filled and marked YOU. */
export function Person(props: {
  at: Point;
  initials: string | undefined;
  mine: boolean;
  word?: string;
}): JSX.Element {
  const { at, mine } = props;
  const words = mine ? "YOU" : (props.initials ?? "?");
  return (
    <g>
      <circle
        class={mine ? "d-lit" : "d-paper"}
        cx={at.x}
        cy={at.y}
        r="25"
        stroke-dasharray={props.initials === undefined && !mine ? "5 4" : undefined}
      />
      <text x={at.x} y={at.y + 7} text-anchor="middle" class={mine ? "d-on-lit d-bold" : "d-in d-bold"}>
        {words}
      </text>
      {props.word !== undefined && (
        <text x={at.x} y={at.y + 44} text-anchor="middle" class="d-dim">
          {props.word}
        </text>
      )}
    </g>
  );
}

const BAR = 96;
const BAR_HEIGHT = 16;

interface ShareBarProps {
  at: Point;
  above: boolean;
  nominal_kg: number | undefined;
  worst_kg: number | undefined;
  fullScale_kg: number;
  mass: Scale;
  width: number;
}

/** The same scale for everybody. Solid is the nominal share, hatched the worst. No other line, ever. */
export function ShareBar(props: ShareBarProps): JSX.Element {
  const { at, nominal_kg, worst_kg, fullScale_kg } = props;
  const left = Math.min(props.width - BAR - 4, Math.max(4, at.x - BAR / 2));
  const top = props.above ? at.y - 54 : at.y + 36;
  const wordsAt = props.above ? top - 8 : top + BAR_HEIGHT + 20;
  const scaled = (kg: number): number => (kg / fullScale_kg) * BAR;
  const solid = nominal_kg === undefined ? 0 : scaled(nominal_kg);
  const worst = worst_kg === undefined ? solid : scaled(worst_kg);
  const hatch: string[] = [];
  for (let x = solid + 2; x < worst; x += 4)
    hatch.push(`M${left + x} ${top + BAR_HEIGHT} L${left + Math.min(worst, x + 5)} ${top}`);
  return (
    <g>
      <rect class="d-ground" x={left} y={top} width={BAR} height={BAR_HEIGHT} />
      <rect class="d-solid" x={left} y={top} width={solid} height={BAR_HEIGHT} />
      {worst > solid && <path class="d-ink" d={hatch.join(" ")} stroke-width="2" />}
      {worst > solid && <path class="d-ink" d={`M${left + worst} ${top} v${BAR_HEIGHT}`} stroke-width="2" />}
      <rect class="d-line" x={left} y={top} width={BAR} height={BAR_HEIGHT} />
      <text x={left + BAR / 2} y={wordsAt} text-anchor="middle" class="d-bold">
        {nominal_kg === undefined ? `? ${props.mass.name}` : said(nominal_kg, props.mass)}
      </text>
    </g>
  );
}

interface MachineProps {
  at: Point;
  kind: "crane" | "jack" | "dolly" | "stand";
  share_kg: number | undefined;
  worst_kg: number | undefined;
  rated_kg: number | undefined;
  above: boolean;
  mass: Scale;
  width: number;
}

const MACHINE_SIGN: Record<MachineProps["kind"], string> = {
  crane: "M0 -14 V-4 M0 -4 a7 7 0 1 1 -7 8",
  dolly: "M-13 -4 H13 M-8 8 a4 4 0 1 0 .1 0 M8 8 a4 4 0 1 0 .1 0",
  stand: "M0 -12 L13 11 H-13 Z",
  jack: "M0 -13 V13 M-9 -13 H9 M-11 13 H11",
};

/** A machine is a square: hook, two wheels, triangle or post, with its share and what it is marked for, or the worst. */
export function Machine(props: MachineProps): JSX.Element {
  const { at } = props;
  const top = props.above ? at.y - 56 : at.y + 46;
  const second =
    props.rated_kg !== undefined
      ? `marked ${said(props.rated_kg, props.mass)}`
      : props.worst_kg !== undefined && props.worst_kg !== props.share_kg
        ? `at worst ${said(props.worst_kg, props.mass)}`
        : undefined;
  const middle = Math.min(props.width - 70, Math.max(70, at.x));
  return (
    <g>
      <rect class="d-paper" x={at.x - 23} y={at.y - 23} width="46" height="46" />
      <path class="d-ink" d={MACHINE_SIGN[props.kind]} transform={`translate(${at.x} ${at.y})`} />
      <text x={middle} y={top} text-anchor="middle" class="d-bold">
        {props.share_kg === undefined ? props.kind : `${props.kind} ${said(props.share_kg, props.mass)}`}
      </text>
      {second !== undefined && (
        <text x={middle} y={top + 22} text-anchor="middle" class="d-dim">
          {second}
        </text>
      )}
    </g>
  );
}

/** Centre of gravity: a quartered disc in the dashed ellipse it may lie in. */
export function Centre({
  x,
  y,
  radius,
  words,
}: {
  x: number;
  y: number;
  radius: number;
  words: string;
}): JSX.Element {
  return (
    <g>
      <ellipse class="d-dash" cx={x} cy={y} rx={radius * 1.25} ry={radius} />
      <circle class="d-ink" cx={x} cy={y} r="9" stroke-width="2" />
      <path
        class="d-solid"
        d={`M${x} ${y} V${y - 9} A9 9 0 0 1 ${x + 9} ${y} Z M${x} ${y} V${y + 9} A9 9 0 0 1 ${x - 9} ${y} Z`}
      />
      <text x={x + radius * 1.25 + 8} y={y + 6} class="d-dim">
        {words}
      </text>
    </g>
  );
}

/** The lookout keeps hands off and watches: a diamond. */
export function Lookout({ x, y, helper }: { x: number; y: number; helper: DrawnHelper }): JSX.Element {
  const mine = helper.mine === true;
  return (
    <g>
      <path
        class={mine ? "d-lit" : "d-paper"}
        d={`M${x} ${y - 27} L${x + 27} ${y} L${x} ${y + 27} L${x - 27} ${y} Z`}
      />
      <text x={x} y={y + 7} text-anchor="middle" class={mine ? "d-on-lit d-bold" : "d-in d-bold"}>
        {mine ? "YOU" : helper.initials}
      </text>
      <text x={Math.max(x, 36)} y={y + 46} text-anchor="middle" class="d-dim">
        lookout
      </text>
    </g>
  );
}

/** The caller is a pennant on a post. */
export function Pennant({ x, y, helper }: { x: number; y: number; helper: DrawnHelper }): JSX.Element {
  const mine = helper.mine === true;
  return (
    <g>
      <path class="d-ink" d={`M${x - 24} ${y - 30} V${y + 26}`} />
      <path
        class={mine ? "d-lit" : "d-paper"}
        d={`M${x - 24} ${y - 28} H${x + 12} L${x + 28} ${y - 6} L${x + 12} ${y + 16} H${x - 24} Z`}
      />
      <text x={x - 2} y={y + 1} text-anchor="middle" class={mine ? "d-on-lit d-bold" : "d-in d-bold"}>
        {mine ? "YOU" : helper.initials}
      </text>
      <text x={x} y={y + 46} text-anchor="middle" class="d-dim">
        caller
      </text>
    </g>
  );
}

/** Where the load goes: a chalk arrow, in the corner that people leave free. */
export function PathArrow({ words }: { words: string }): JSX.Element {
  return (
    <g>
      <path class="d-chalk" d="M20 58 V9 M9 21 L20 7 L31 21" stroke-width="3.5" />
      <text x="42" y="28">
        {words}
      </text>
    </g>
  );
}
