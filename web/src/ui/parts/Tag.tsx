import type { ComponentChildren, JSX } from "preact";
import { type FlagData, FlagList } from "./Flag";
import { Stub } from "./Stub";
import { TagEdge, TagEyelet, TagStroke } from "./tagDrawing";

/** `ready_undone` is a task that is ready again because signed work on it was undone. */
export type TagState =
  | "waiting"
  | "ready"
  | "taken"
  | "stuck"
  | "check_due"
  | "closed"
  | "ready_undone"
  | "left_out"
  | "not_for_you";

export interface TagProps {
  /** "T605" */
  number: string;
  state: TagState;
  /** Replaces the usual word where more is known: "ready once handed over", "taken by Aled". */
  stateWord?: string | undefined;
  title: string;
  /** Level of the heading inside the tag; 3 in a list under an h2. */
  level?: 2 | 3 | 4;
  /** One reason, in words. */
  reason?: string | undefined;
  flags?: readonly FlagData[];
  /** How many flags to show; three in a queue. */
  mostFlags?: number;
  /** Who signed: doer first, then whoever checked. Only for check_due and closed. */
  signedBy?: readonly string[];
  /** Is it *mine* to hold? Only what you hold is lit. */
  lit?: boolean;
  /** Something about it waits on this phone. */
  stub?: string | undefined;
  href?: string | undefined;
  onOpen?: (() => void) | undefined;
  /** The one button, only on lit and first-ready tags. */
  action?: ComponentChildren;
}

export const STATE_WORD: Record<TagState, string> = {
  waiting: "waiting",
  ready: "ready",
  taken: "taken",
  stuck: "stuck",
  check_due: "done, check due",
  closed: "closed",
  ready_undone: "ready, undone",
  left_out: "left out",
  not_for_you: "not for you",
};

/** Instead of *waiting*, where one's own unsent work lifts all it waits for. */
export const ONCE_HANDED_OVER = "ready once handed over";

function TagTitle({ title, href, onOpen }: Pick<TagProps, "title" | "href" | "onOpen">): JSX.Element {
  if (href !== undefined) return <a href={href}>{title}</a>;
  if (onOpen !== undefined) {
    return (
      <button type="button" onClick={onOpen}>
        {title}
      </button>
    );
  }
  return <>{title}</>;
}

/** A task, everywhere the same. The state is always written; eyelet, edge and stroke repeat it. */
export function Tag(props: TagProps): JSX.Element {
  const { state, lit = false, signedBy = [], level = 3 } = props;
  const Heading = `h${level}` as const;
  const word = props.stateWord ?? STATE_WORD[state];
  return (
    <article class={`tag tag-${state.replaceAll("_", "-")}${lit ? " lit" : ""}`}>
      <TagEdge state={state} />
      <TagEyelet state={state} />
      <p class="tag-state">
        {props.number} · {state === "left_out" ? <s>{word}</s> : word}
      </p>
      <Heading class="tag-title">
        <TagTitle title={props.title} href={props.href} onOpen={props.onOpen} />
      </Heading>
      {props.reason !== undefined && <p class="tag-reason">{props.reason}</p>}
      {signedBy.length > 0 && <p class="tag-signed">Signed: {signedBy.join(", ")}</p>}
      {props.flags !== undefined && <FlagList flags={props.flags} most={props.mostFlags ?? 3} />}
      {props.stub !== undefined && (
        <div class="tag-stub">
          <Stub word={props.stub} />
        </div>
      )}
      {props.action !== undefined && <div class="tag-action">{props.action}</div>}
      <TagStroke state={state} />
    </article>
  );
}

/** Three outlined tags and a sentence, only when nothing at all is known yet. */
export function LoadingTags({ sentence = "Fetching the build" }: { sentence?: string }): JSX.Element {
  return (
    <div class="stack" role="status">
      <p class="t-dim">{sentence}</p>
      {[0, 1, 2].map((i) => (
        <div key={i} class="tag tag-loading" aria-hidden="true">
          <TagEdge state="waiting" />
          <TagEyelet state="ready" />
        </div>
      ))}
    </div>
  );
}
