import type { JSX } from "preact";

/** Our own drawings in the grammar of ISO 7010: a triangle warns, a disc says do, a barred ring says don't. */
export type PictogramKind = keyof typeof PICTOGRAMS;

interface PictogramDrawing {
  frame: "warn" | "do" | "dont";
  words: string;
  /** Strokes and fills on a 64 x 64 field, inside the frame. */
  strokes?: string;
  solid?: string;
}

const PICTOGRAMS = {
  warn_fire: {
    frame: "warn",
    words: "Warning: fire",
    solid:
      "M32 22 C33 30 42 33 41 43 C41 50 36 53 32 53 C27 53 22 50 22 44 C22 39 25 37 26 32 C28 35 30 35 30 32 C30 28 31 26 32 22 Z",
  },
  warn_load: {
    frame: "warn",
    words: "Warning: load overhead",
    strokes: "M32 20 V30 M32 30 a4 4 0 1 1 -4 5",
    solid: "M21 41 H43 V53 H21 Z",
  },
  warn_car_above: {
    frame: "warn",
    words: "Warning: car above you",
    strokes: "M18 52 H46 M22 40 L25 34 H39 L42 40",
    solid: "M19 39 H45 V44 H19 Z M24 48 a3 3 0 1 0 .1 0 M30 47 H43 V51 H30 Z",
  },
  warn_gas: {
    frame: "warn",
    words: "Warning: exhaust gas",
    strokes: "M20 50 H32 M36 48 c-4 -4 5 -6 1 -10 c-4 -4 4 -6 1 -10 M44 50 c-4 -4 4 -6 1 -10",
  },
  warn_spring: {
    frame: "warn",
    words: "Warning: spring under load",
    strokes: "M25 53 L39 49 L25 44 L39 40 L25 35 L39 31 M22 55 H42 M26 27 H38",
  },
  warn_current: {
    frame: "warn",
    words: "Warning: electric current",
    solid: "M35 20 L24 39 H31 L28 54 L41 34 H34 Z",
  },
  warn_hot: {
    frame: "warn",
    words: "Warning: hot",
    strokes: "M20 52 H44 M25 47 c-4 -5 4 -7 0 -13 M32 47 c-4 -6 4 -10 0 -18 M39 47 c-4 -5 4 -7 0 -13",
  },
  warn_rotating: {
    frame: "warn",
    words: "Warning: turning parts",
    strokes: "M23 43 a9 9 0 1 0 9 -9 M32 34 l6 -5 M32 34 l6 5",
    solid: "M32 40 a3 3 0 1 0 .1 0",
  },
  warn_crush: {
    frame: "warn",
    words: "Warning: crushing",
    strokes: "M18 53 H46 M25 43 V33 M29 43 V30 M33 43 V30 M37 43 V33 M24 43 h15",
    solid: "M18 47 H46 V51 H18 Z",
  },
  warn_edge: {
    frame: "warn",
    words: "Warning: sharp edge",
    strokes: "M20 50 L44 34 M24 53 C28 46 34 48 38 53",
    solid: "M20 50 L46 28 L44 40 Z",
  },
  warn_harmful: {
    frame: "warn",
    words: "Warning: harmful fluid",
    strokes: "M26 28 h12 M29 28 v8 l-7 15 h20 l-7 -15 v-8",
    solid: "M25 45 H39 L42 51 H22 Z",
  },
  do_goggles: {
    frame: "do",
    words: "Wear eye protection",
    strokes: "M12 30 H52 M16 30 v6 a7 7 0 0 0 14 0 l2 -3 l2 3 a7 7 0 0 0 14 0 v-6",
  },
  do_gloves: {
    frame: "do",
    words: "Wear gloves",
    solid:
      "M24 50 V36 L18 28 l4 -3 l4 5 V18 h4 v11 h1.5 V15 h4 v14 H37 V17 h4 v14 h1.5 V22 h4 v16 c0 6 -3 8 -3 12 z",
  },
  do_two_people: {
    frame: "do",
    words: "Two people",
    solid: "M22 18 a5 5 0 1 0 .1 0 M42 18 a5 5 0 1 0 .1 0 M15 31 h14 v18 h-14 z M35 31 h14 v18 h-14 z",
  },
  do_extinguisher: {
    frame: "do",
    words: "Extinguisher in hand",
    strokes: "M28 20 H40 L46 28 M34 20 V16",
    solid: "M26 24 h14 v26 h-14 z",
  },
  do_outdoors: {
    frame: "do",
    words: "Out of doors, or extracted",
    strokes: "M12 40 c6 -8 12 8 20 0 s14 8 20 0 M12 28 c6 -8 12 8 20 0 s14 8 20 0",
  },
  do_hearing: {
    frame: "do",
    words: "Wear hearing protection",
    strokes: "M18 36 V32 a14 14 0 0 1 28 0 v4",
    solid: "M14 34 h8 v13 h-8 z M42 34 h8 v13 h-8 z",
  },
  do_wash: {
    frame: "do",
    words: "Wash your hands",
    strokes: "M18 22 H34 a6 6 0 0 1 6 6 v3 M40 36 v4 M36 42 v4 M44 42 v4 M16 50 H48",
  },
  do_disconnect: {
    frame: "do",
    words: "Disconnect it first",
    strokes: "M12 34 H24 M40 34 H52",
    solid: "M24 27 h7 v14 h-7 z M34 27 h6 v4 h-3 v6 h3 v4 h-6 z",
  },
  dont_flame: {
    frame: "dont",
    words: "No flame, no spark",
    strokes: "M20 48 L38 32",
    solid: "M40 30 c-4 -2 -4 -7 0 -12 c1 4 5 6 4 10 c-1 3 -3 3 -4 2 z",
  },
  dont_beneath: {
    frame: "dont",
    words: "Nobody beneath",
    strokes: "M32 14 v6",
    solid: "M20 20 h24 v9 h-24 z M32 33 a4 4 0 1 0 .1 0 M27 43 h10 v9 h-10 z",
  },
  dont_hands: {
    frame: "dont",
    words: "Hands out",
    solid:
      "M25 49 V37 L19 30 l3 -3 l5 5 V20 h3.5 v11 h1.5 V18 h3.5 v13 h1.5 V20 h3.5 v14 h1.5 V25 h3.5 v14 c0 5 -3 6 -3 10 z",
  },
  dont_minors: {
    frame: "dont",
    words: "Not for under-18s",
    solid: "M32 17 a5 5 0 1 0 .1 0 M26 29 h12 v10 h-3 v11 h-6 v-11 h-3 z",
  },
  dont_run_indoors: {
    frame: "dont",
    words: "Never run it indoors",
    strokes: "M16 32 L32 19 L48 32 M20 30 V48 H44 V30 M26 44 c-3 -4 3 -5 0 -9 M34 44 c-3 -4 3 -5 0 -9",
  },
} as const satisfies Record<string, PictogramDrawing>;

export const PICTOGRAM_KINDS = Object.keys(PICTOGRAMS) as PictogramKind[];

const FRAMES = {
  warn: {
    back: (
      <path d="M32 5 L61 57 H3 Z" fill="#ffd21f" stroke="#000" stroke-width="5" stroke-linejoin="round" />
    ),
    front: null,
    ink: "#000",
  },
  do: { back: <circle cx="32" cy="32" r="30" fill="#0b4f9e" />, front: null, ink: "#fff" },
  dont: {
    back: <circle cx="32" cy="32" r="27" fill="#fff" stroke="#a8101a" stroke-width="6" />,
    front: <path d="M13 13 L51 51" stroke="#a8101a" stroke-width="6" />,
    ink: "#000",
  },
} as const;

/** A safety sign of 64 px. Its words are read to those who can't see it; the panel says more. */
export function Pictogram({ kind }: { kind: PictogramKind }): JSX.Element {
  const drawing: PictogramDrawing = PICTOGRAMS[kind];
  const frame = FRAMES[drawing.frame];
  return (
    <svg class="pictogram" viewBox="0 0 64 64" role="img" aria-label={drawing.words}>
      {frame.back}
      {drawing.solid !== undefined && <path d={drawing.solid} fill={frame.ink} />}
      {drawing.strokes !== undefined && (
        <path
          d={drawing.strokes}
          fill="none"
          stroke={frame.ink}
          stroke-width="3"
          stroke-linecap="round"
          stroke-linejoin="round"
        />
      )}
      {frame.front}
    </svg>
  );
}
