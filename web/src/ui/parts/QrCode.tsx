import type { JSX } from "preact";

export type QrCodeProps = {
  /** What it holds, for those who can't scan: "Invite for a helper, works once, until 18:40". */
  label: string;
} & (
  | {
      /** The whole picture as the service drew it, with its quiet zone. Only ever from our own service. */
      svg: string;
    }
  | {
      /** Rows of "1" (dark) and "0", without the quiet zone. */
      modules: readonly string[];
    }
);

/** Modules of white all round, as ISO/IEC 18004 asks for. */
const QUIET = 4;

/** As wide as the screen, always black on white, whatever the theme. */
export function QrCode(props: QrCodeProps): JSX.Element {
  if ("svg" in props) {
    return (
      <div class="qr" role="img" aria-label={props.label} dangerouslySetInnerHTML={{ __html: props.svg }} />
    );
  }
  const size = props.modules.length + 2 * QUIET;
  const dark = props.modules
    .flatMap((row, y) => [...row].map((bit, x) => (bit === "1" ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : "")))
    .join("");
  return (
    <svg
      class="qr"
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label={props.label}
      shape-rendering="crispEdges"
    >
      <path d={dark} fill="#000" />
    </svg>
  );
}
