import type { JSX } from "preact";

export interface StubProps {
  /** What waits: "On this phone only", "2 here". */
  word?: string;
  heard?: string;
  /** With a link the stub is a 48 px target. */
  href?: string;
}

/** Kept on this phone, not handed over yet: a stub with a torn right edge. Never a witness stroke. */
export function Stub({ word = "On this phone only", heard, href }: StubProps): JSX.Element {
  const inside = (
    <>
      {word}
      <svg class="stub-tear" viewBox="0 0 14 48" preserveAspectRatio="none" aria-hidden="true">
        <path
          d="M1 1 L9 5 L4 10 L12 16 L6 21 L11 27 L3 33 L10 38 L5 43 L1 47"
          vector-effect="non-scaling-stroke"
        />
      </svg>
    </>
  );
  if (href === undefined) {
    return <span class="stub">{inside}</span>;
  }
  return (
    <a class="stub" href={href} aria-label={heard}>
      {inside}
    </a>
  );
}
