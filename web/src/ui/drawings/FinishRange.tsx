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

const CHAR_PX = 11.5;

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
  // The two upper words would meet when the dates are near: then the second one goes below the line, and takes the
  // place of today's where that is near too; the mark of today stays.
  const near = x(p80.at_ms) - x(p50.at_ms) < 84;
  const below = near && p80.word !== p50.word;
  const showToday = !below || x(p80.at_ms) - x(today.at_ms) >= 84;
  /** A word centred where it belongs, moved in where the edge would cut it. */
  const centre = (at: number, word: string): number => {
    const half = (word.length * CHAR_PX) / 2;
    return Math.max(half, Math.min(width - half, at));
  };
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
        {showToday && (
          <text x={centre(x(today.at_ms), today.word)} y="88" text-anchor="middle" class="d-dim">
            {today.word}
          </text>
        )}
        <rect
          class="d-solid"
          x={x(p50.at_ms)}
          y="49"
          width={Math.max(6, x(p80.at_ms) - x(p50.at_ms))}
          height="14"
        />
        <path class="d-ink" d={`M${x(p50.at_ms)} 34 V70`} stroke-width="5" />
        <text x={centre(x(p50.at_ms), p50.word)} y="24" text-anchor="middle">
          {p50.word}
        </text>
        {(below || !near) && (
          <text x={centre(x(p80.at_ms), p80.word)} y={below ? 88 : 24} text-anchor="middle">
            {p80.word}
          </text>
        )}
        {wanted !== undefined && (
          <>
            <path class="d-dash" d={`M${x(wanted.at_ms)} 34 V84`} stroke-width="4" />
            <text
              x={centre(x(wanted.at_ms), `wanted ${wanted.word}`)}
              y="108"
              text-anchor="middle"
              class="d-bold"
            >
              wanted {wanted.word}
            </text>
          </>
        )}
      </Drawing>
    </div>
  );
}
