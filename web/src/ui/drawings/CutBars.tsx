import type { JSX } from "preact";
import { barParts } from "./barShape";
import { Drawing, useWidth } from "./Drawing";
import { amount, MM, type Scale, said } from "./scale";

export interface DrawnBar {
  /** How many are cut alike. */
  bars: number;
  pieces_mm: readonly number[];
  rest_mm: number;
}

export interface CutBarsProps {
  title: string;
  stock_mm: number;
  kerf_mm: number;
  bars: readonly DrawnBar[];
  /** Unit of the words, where it is another than millimetres. */
  length?: Scale | undefined;
}

const BAR = 40;
const ROW = 78;
const CHAR_PX = 10.5;
const LEAST_KERF_PX = 2;

/** "2 bars: 620, 480, 350 mm; rest 50 mm each." */
export function barFact(bar: DrawnBar, length: Scale = MM): string {
  const many = bar.bars > 1;
  const rest = bar.rest_mm === 0 ? "no rest" : `rest ${said(bar.rest_mm, length)}${many ? " each" : ""}`;
  return `${bar.bars} ${many ? "bars" : "bar"}: ${bar.pieces_mm.map((mm) => amount(mm, length)).join(", ")} ${length.name}; ${rest}.`;
}

/** Each kind of bar once: pieces with their lengths, cuts as thick lines, the rest hatched. */
export function CutBars({ title, stock_mm, kerf_mm, bars, length = MM }: CutBarsProps): JSX.Element {
  const { box, width } = useWidth(358);
  const facts = bars.map((bar) => barFact(bar, length));
  return (
    <div ref={box} class="drawing-measured">
      <Drawing
        title={title}
        description={facts.join(" ")}
        facts={facts}
        viewBox={`0 0 ${width} ${bars.length * ROW}`}
      >
        {bars.map((bar, row) => (
          <Bar
            key={row}
            bar={bar}
            top={row * ROW}
            width={width}
            stock_mm={stock_mm}
            kerf_mm={kerf_mm}
            length={length}
          />
        ))}
      </Drawing>
    </div>
  );
}

function Bar(props: {
  bar: DrawnBar;
  top: number;
  width: number;
  stock_mm: number;
  kerf_mm: number;
  length: Scale;
}): JSX.Element {
  const { bar, top, width, length } = props;
  const at = top + 28;
  const rest = bar.rest_mm === 0 ? "no rest" : `rest ${said(bar.rest_mm, length)}`;
  return (
    <g>
      <text x="1" y={top + 20}>
        {`${bar.bars} × ${said(props.stock_mm, length)}, ${rest}${bar.bars > 1 ? " each" : ""}`}
      </text>
      {barParts({ ...props, pieces_mm: bar.pieces_mm }, width - 2).map((part) => {
        const x = part.x + 1;
        if (part.what === "kerf") {
          return (
            <rect
              key={x}
              class="d-solid"
              x={x}
              y={at - 4}
              width={Math.max(LEAST_KERF_PX, part.width)}
              height={BAR + 8}
            />
          );
        }
        if (part.what === "rest") return <Rest key={x} x={x} y={at} width={part.width} />;
        const words = amount(part.mm, length);
        return (
          <g key={x}>
            <rect class="d-paper" x={x} y={at} width={part.width} height={BAR} />
            {words.length * CHAR_PX + 8 <= part.width && (
              <text x={x + part.width / 2} y={at + 27} text-anchor="middle" class="d-in d-bold">
                {words}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** What is left over: hatched. */
function Rest({ x, y, width }: { x: number; y: number; width: number }): JSX.Element {
  const lines: string[] = [];
  for (let from = x - BAR; from < x + width; from += 9) {
    const a = Math.max(x, from);
    const b = Math.min(x + width, from + BAR);
    if (b > a) lines.push(`M${a} ${y + BAR - (a - from)} L${b} ${y + BAR - (b - from)}`);
  }
  return (
    <g>
      <path class="d-line" d={lines.join(" ")} stroke-width="1.5" />
      <rect class="d-line" x={x} y={y} width={width} height={BAR} stroke-dasharray="6 4" />
    </g>
  );
}
