import type { JSX } from "preact";
import { Stub } from "./Stub";

export interface TopStripProps {
  build: string;
  /** How many commands wait on this phone; no stub when nothing waits. */
  unsent?: number;
  /** How many of them were handed over again and again without a yes or no. */
  unanswered?: number;
  unsentHref?: string;
  initials?: string | undefined;
  name?: string | undefined;
  meHref?: string;
}

/** Build's name, what is still on this phone, who I am. It wraps. */
export function TopStrip(props: TopStripProps): JSX.Element {
  const { unsent = 0, unanswered = 0 } = props;
  const besides = unanswered > 0 ? `, ${unanswered} unanswered` : "";
  return (
    <div class="top-strip">
      <span class="top-strip-build">{props.build}</span>
      {unsent > 0 && (
        <Stub
          word={`${unsent} here${besides}`}
          heard={`${unsent} here${besides}, still on this phone`}
          href={props.unsentHref ?? "#"}
        />
      )}
      {props.initials !== undefined && (
        <a
          class="top-strip-me"
          href={props.meHref ?? "#"}
          aria-label={`${props.initials}, you are ${props.name ?? props.initials}`}
        >
          {props.initials}
        </a>
      )}
    </div>
  );
}

export interface CallLineProps {
  /** "Lift at 14:00: your answer is wanted" */
  sentence: string;
  href: string;
}

/** One 56 px line per call, under the strip. */
export function CallLine({ sentence, href }: CallLineProps): JSX.Element {
  return (
    <a class="call-line" href={href}>
      <span>{sentence}</span>
      <span class="call-line-go" aria-hidden="true">
        ›
      </span>
    </a>
  );
}
