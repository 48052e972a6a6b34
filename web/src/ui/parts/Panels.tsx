import type { ComponentChildren, JSX } from "preact";

export interface RefusalPanelProps {
  /** What is so: "Aled took T605 at 10:41." */
  sentence: string;
  /** What to do then: "Join him or take the next." */
  remedy?: string | undefined;
  /** What was typed; it stays. */
  typed?: string | undefined;
  /** Its button or buttons. */
  children?: ComponentChildren;
}

/** Stands at the place of the press; said at once to screen readers. */
export function RefusalPanel({ sentence, remedy, typed, children }: RefusalPanelProps): JSX.Element {
  return (
    <div class="refusal" role="alert">
      <p>
        <strong class="refusal-sentence">{sentence}</strong>
        {remedy !== undefined && ` ${remedy}`}
      </p>
      {typed !== undefined && <p class="refusal-typed">Kept: {typed}</p>}
      {children}
    </div>
  );
}

/** A dim line: "No connection since 10:32. Go on, it is kept here." */
export function NoticeLine({ children }: { children: ComponentChildren }): JSX.Element {
  return <p class="notice-line">{children}</p>;
}

/** "Demo. Nobody is who they say." */
export function DemoBanner({
  sentence = "Demo. Nobody is who they say.",
}: {
  sentence?: string;
}): JSX.Element {
  return <p class="demo-banner">{sentence}</p>;
}

/** Says what is empty, and the way on. */
export function EmptyState({
  sentence,
  children,
}: {
  sentence: string;
  children?: ComponentChildren;
}): JSX.Element {
  return (
    <div class="empty">
      <p>{sentence}</p>
      {children}
    </div>
  );
}

export interface LiveLineProps {
  /** Said once, politely; empty says nothing. */
  words: string;
  /** STOP and refusals are said at once. */
  atOnce?: boolean;
}

/** A line for ears only; the screen shows the same where it belongs. */
export function LiveLine({ words, atOnce = false }: LiveLineProps): JSX.Element {
  return (
    <div
      class="heard"
      role={atOnce ? "alert" : "status"}
      aria-live={atOnce ? "assertive" : "polite"}
      aria-atomic="true"
    >
      {words}
    </div>
  );
}
