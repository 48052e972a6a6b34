import type { JSX } from "preact";
import { Drawing } from "./Drawing";
import { Centre, Lookout, Machine, PathArrow, Pennant, Person, ShareBar } from "./liftShapes";
import { AS_GIVEN, amount, MM, roundLength, type Scale, said } from "./scale";

export interface DrawnSupport {
  id: string;
  /** "Front left" */
  say: string;
  /** `place`: somebody or something will bear it there; nobody is named. */
  kind: "lifter" | "place" | "crane" | "jack" | "dolly" | "stand";
  /** mm, in the load's own axes: x from the front backwards, y from left to right. */
  x_mm: number;
  y_mm: number;
  /** Published or placed share; left out while unknown. Never anybody's own limit. */
  nominal_kg?: number | undefined;
  worst_kg?: number | undefined;
  /** What a machine is marked for. */
  rated_kg?: number | undefined;
  /** Who stands there; empty while nobody is placed. */
  initials?: string | undefined;
  mine?: boolean | undefined;
}

export interface DrawnHelper {
  initials: string;
  mine?: boolean | undefined;
}

export interface LiftFromAboveProps {
  /** "Body shell, 84 kg" */
  load: string;
  /** Corner points, mm, in the load's own axes. */
  outline_mm: readonly (readonly [number, number])[];
  supports: readonly DrawnSupport[];
  /** Left out while it is unknown. */
  cg?: { x_mm: number; y_mm: number; plus_minus_mm: number } | undefined;
  caller?: DrawnHelper | undefined;
  lookout?: DrawnHelper | undefined;
  guides?: readonly DrawnHelper[];
  /** "4 m, one step" */
  path?: string | undefined;
  /** Units of the words, where they are others than kilograms and centimetres. */
  mass?: Scale | undefined;
  length?: Scale | undefined;
}

const WIDTH = 358;
const MARGIN_X = 76;
const TOP = 132;
const BOTTOM = 96;

/** "Front left: you, 16 kg, at worst 17." */
export function supportFact(support: DrawnSupport, mass: Scale = AS_GIVEN): string {
  const who =
    support.kind === "place"
      ? ""
      : support.kind !== "lifter"
        ? `${support.kind}, `
        : support.mine === true
          ? "you, "
          : `${support.initials ?? "nobody yet"}, `;
  const share = support.nominal_kg === undefined ? "share unknown" : said(support.nominal_kg, mass);
  const worst = support.worst_kg === undefined ? "" : `, at worst ${amount(support.worst_kg, mass)}`;
  const rated = support.rated_kg === undefined ? "" : `, marked ${said(support.rated_kg, mass)}`;
  return `${support.say}: ${who}${share}${worst}${rated}.`;
}

function bounds(points: readonly (readonly [number, number])[]): {
  x0: number;
  x1: number;
  y0: number;
  y1: number;
} {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
}

function byHand(support: DrawnSupport): boolean {
  return support.kind === "lifter" || support.kind === "place";
}

/** The load from above: who stands where, and what each place bears. Front is up. */
export function LiftFromAbove(props: LiftFromAboveProps): JSX.Element {
  const { supports, cg, guides = [], mass = AS_GIVEN, length = MM } = props;
  const box = bounds([...props.outline_mm, ...supports.map((s) => [s.x_mm, s.y_mm] as const)]);
  const across = Math.max(1, box.y1 - box.y0);
  const along = Math.max(1, box.x1 - box.x0);
  const scale = Math.min((WIDTH - 2 * MARGIN_X) / across, 300 / along);
  const height = TOP + along * scale + BOTTOM;
  const px = (y_mm: number): number => WIDTH / 2 + (y_mm - (box.y0 + box.y1) / 2) * scale;
  const py = (x_mm: number): number => TOP + (x_mm - box.x0) * scale;
  const largest = Math.max(30, ...supports.filter(byHand).map((s) => s.worst_kg ?? s.nominal_kg ?? 0));
  const fullScale_kg = Math.ceil(largest / 10) * 10;
  const outline = props.outline_mm.map(([x, y]) => `${px(y)},${py(x)}`).join(" ");
  const bar = roundLength(Math.max(along, across), length);
  const either = length === MM ? `${(cg?.plus_minus_mm ?? 0) / 10} cm` : said(cg?.plus_minus_mm ?? 0, length);
  const helpers = [
    ...(props.caller === undefined ? [] : [`Caller: ${whoIs(props.caller)}.`]),
    ...(props.lookout === undefined ? [] : [`Lookout: ${whoIs(props.lookout)}.`]),
    ...guides.map((g) => `Guide: ${whoIs(g)}.`),
  ];
  const facts = [
    ...supports.map((support) => supportFact(support, mass)),
    cg === undefined
      ? "Centre of gravity unknown."
      : cg.plus_minus_mm === 0
        ? "Centre of gravity as given."
        : `Centre of gravity known to ${either} either way.`,
    ...helpers,
    ...(props.path === undefined ? [] : [`Path ${props.path}.`]),
  ];
  return (
    <Drawing
      title={`${props.load}, from above`}
      description={facts.slice(0, supports.length).join(" ")}
      facts={facts}
      viewBox={`0 0 ${WIDTH} ${height}`}
    >
      {props.path !== undefined && <PathArrow words={`path ${props.path}`} />}
      <polygon class="d-line" points={outline} />
      {cg !== undefined && (
        <Centre
          x={px(cg.y_mm)}
          y={py(cg.x_mm)}
          radius={Math.max(15, cg.plus_minus_mm * scale)}
          words={cg.plus_minus_mm === 0 ? "" : `± ${either}`}
        />
      )}
      {supports.map((support) => {
        const at = { x: px(support.y_mm), y: py(support.x_mm) };
        const above = at.y < TOP + (along * scale) / 2;
        return (
          <g key={support.id}>
            {support.kind === "lifter" || support.kind === "place" ? (
              <>
                <Person at={at} initials={support.initials} mine={support.mine === true} />
                <ShareBar
                  at={at}
                  above={above}
                  nominal_kg={support.nominal_kg}
                  worst_kg={support.worst_kg}
                  fullScale_kg={fullScale_kg}
                  mass={mass}
                  width={WIDTH}
                />
              </>
            ) : (
              <Machine
                at={at}
                kind={support.kind}
                share_kg={support.nominal_kg}
                worst_kg={support.worst_kg}
                rated_kg={support.rated_kg}
                above={above}
                mass={mass}
                width={WIDTH}
              />
            )}
          </g>
        );
      })}
      {props.lookout !== undefined && <Lookout x={30} y={height / 2} helper={props.lookout} />}
      {props.caller !== undefined && <Pennant x={WIDTH - 34} y={height / 2} helper={props.caller} />}
      {guides.map((g, i) => (
        <Person
          key={g.initials}
          at={{ x: WIDTH - 34, y: height / 2 + 96 * (i + 1) }}
          initials={g.initials}
          mine={g.mine === true}
          word="guide"
        />
      ))}
      <path
        class="d-ink"
        d={`M16 ${height - 12} h${bar.mm * scale} M16 ${height - 18} v12 M${16 + bar.mm * scale} ${height - 18} v12`}
        stroke-width="2"
      />
      <text x={26 + bar.mm * scale} y={height - 6} class="d-dim">
        {bar.words}
      </text>
    </Drawing>
  );
}

function whoIs(helper: DrawnHelper): string {
  return helper.mine === true ? "you" : helper.initials;
}
