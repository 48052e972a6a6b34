import type { JSX } from "preact";
import { Drawing, useWidth } from "./Drawing";

/** A date as the service worked it out, with the words it is shown by. */
export interface DatedWord {
  at_ms: number;
  word: string;
}

export interface FinishRangeProps {
  /** "First start" */
  gate: string;
  /** "First start: half a chance by 7 Dec, four in five by 21 Dec. Wanted: 14 Dec." */
  sentence: string;
  p50: DatedWord;
  p80: DatedWord;
  wanted?: DatedWord | undefined;
  today: DatedWord;
  /** What drives it, in words: "T505 waits for four people on a Saturday." */
  drivers?: readonly string[];
}

/** A finish date is a range: tick at half a chance, thick bar to four in five, dashed post at the wish. */
export function FinishRange(props: FinishRangeProps): JSX.Element {
  const { box, width } = useWidth(358);
  const { p50, p80, wanted, today } = props;
  const last = Math.max(p80.at_ms, wanted?.at_ms ?? p80.at_ms);
  const span = Math.max(1, last - today.at_ms);
  const side = 34;
  const x = (at_ms: number): number => side + ((at_ms - today.at_ms) / span) * (width - 2 * side);
  const facts = [
    `Half a chance by ${p50.word}.`,
    `Four in five by ${p80.word}.`,
    ...(wanted === undefined ? [] : [`Wanted: ${wanted.word}.`]),
    ...(props.drivers ?? []),
  ];
  // The two upper words would meet when the dates are near: then the second one goes to the right of its end.
  const near = x(p80.at_ms) - x(p50.at_ms) < 84;
  return (
    <div ref={box} class="stack drawing-measured">
      <p>{props.sentence}</p>
      <Drawing
        title={`${props.gate}, finish range`}
        description={props.sentence}
        facts={facts}
        viewBox={`0 0 ${width} 112`}
      >
        <path class="d-line" d={`M${side} 56 H${width - side}`} />
        <path class="d-line" d={`M${x(today.at_ms)} 48 V64`} />
        <text x={x(today.at_ms)} y="88" text-anchor="middle" class="d-dim">
          {today.word}
        </text>
        <rect
          class="d-solid"
          x={x(p50.at_ms)}
          y="49"
          width={Math.max(6, x(p80.at_ms) - x(p50.at_ms))}
          height="14"
        />
        <path class="d-ink" d={`M${x(p50.at_ms)} 34 V70`} stroke-width="5" />
        <text x={x(p50.at_ms)} y="24" text-anchor={near ? "end" : "middle"}>
          {p50.word}
        </text>
        <text x={x(p80.at_ms)} y="24" text-anchor={near ? "start" : "middle"}>
          {p80.word}
        </text>
        {wanted !== undefined && (
          <>
            <path class="d-dash" d={`M${x(wanted.at_ms)} 34 V84`} stroke-width="4" />
            <text x={x(wanted.at_ms)} y="106" text-anchor="middle" class="d-bold">
              wanted {wanted.word}
            </text>
          </>
        )}
      </Drawing>
    </div>
  );
}
