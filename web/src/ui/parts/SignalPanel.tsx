import type { JSX } from "preact";
import { Pictogram, type PictogramKind } from "../drawings/Pictogram";

/** The word's meaning is that of ANSI Z535: will / could kill; could injure; no injury. */
export type SignalWord = "danger" | "warning" | "caution" | "notice";

export interface SignalPanelProps {
  word: SignalWord;
  /** What it is: "Petrol is open here." */
  what: string;
  /** What it does. */
  does: string;
  /** How not to. */
  how: string;
  /** Who has the last word: the kit's manual, a code, licensed practice. */
  deferTo?: string | undefined;
  pictograms?: readonly PictogramKind[];
}

const ORDER: readonly SignalWord[] = ["danger", "warning", "caution", "notice"];

/** Highest word first. */
export function bySignalWord<T extends { word: SignalWord }>(panels: readonly T[]): T[] {
  return [...panels].sort((a, b) => ORDER.indexOf(a.word) - ORDER.indexOf(b.word));
}

function Head({ word }: { word: SignalWord }): JSX.Element {
  const mark = word === "danger" ? "#a8101a" : word === "warning" ? "#ff8a14" : "#ffd21f";
  return (
    <span class="signal-head">
      {word !== "notice" && (
        <svg class="signal-alert" viewBox="0 0 34 30" aria-hidden="true">
          <path d="M17 1 L33 29 H1 Z" fill="currentColor" />
          <path d="M17 10 V19" stroke={mark} stroke-width="4" stroke-linecap="round" />
          <circle cx="17" cy="24.5" r="2.3" fill={mark} />
        </svg>
      )}
      {word.toUpperCase()}
    </span>
  );
}

function Body(props: SignalPanelProps): JSX.Element {
  return (
    <div class="signal-body">
      {props.pictograms !== undefined && props.pictograms.length > 0 && (
        <div class="signal-pictograms">
          {props.pictograms.map((kind) => (
            <Pictogram key={kind} kind={kind} />
          ))}
        </div>
      )}
      <div class="signal-lines">
        <p>{props.what}</p>
        <p>{props.does}</p>
        <p>{props.how}</p>
        {props.deferTo !== undefined && <p class="signal-defer">Last word: {props.deferTo}.</p>}
      </div>
    </div>
  );
}

/** In full, before a task is taken or a lift is called. The plan chooses the word; nothing softens it. */
export function SignalPanel(props: SignalPanelProps): JSX.Element {
  return (
    <section class={`signal signal-${props.word}`} aria-label={`${props.word}: ${props.what}`}>
      <Head word={props.word} />
      <Body {...props} />
    </section>
  );
}

/** One line, once the task is taken; it opens again. */
export function SignalStrip(props: SignalPanelProps): JSX.Element {
  return (
    <details class={`signal-strip signal-${props.word}`}>
      <summary>
        <Head word={props.word} />
        <span class="signal-strip-line">{props.what}</span>
        <span class="signal-strip-open" aria-hidden="true">
          ›
        </span>
      </summary>
      <div class={`signal signal-${props.word}`}>
        <Body {...props} />
      </div>
    </details>
  );
}
