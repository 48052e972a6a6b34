import type { JSX } from "preact";
import type { TagState } from "./Tag";

/** The edge is lines pinned to the corners, so that the cuts keep their 20 px at any size. */
export function TagEdge({ state }: { state: TagState }): JSX.Element {
  const dashed = state === "waiting" || state === "stuck" || state === "left_out";
  const style = state === "not_for_you" ? " tag-edge-dotted" : dashed ? " tag-edge-dashed" : "";
  return (
    <>
      <svg class={`tag-edge tag-edge-left${style}`} aria-hidden="true">
        <line x1="1" y1="0" x2="1" y2="100%" />
      </svg>
      <svg class={`tag-edge${style}`} aria-hidden="true">
        <line x1="20" y1="1" x2="100%" y2="1" />
        <line x1="20" y1="1" x2="1" y2="20" />
        <svg x="100%" overflow="visible" aria-hidden="true">
          <line x1="-1" y1="0" x2="-1" y2="100%" />
        </svg>
        <svg y="100%" overflow="visible" aria-hidden="true">
          <line x1="20" y1="-1" x2="100%" y2="-1" />
          <line x1="20" y1="-1" x2="1" y2="-20" />
        </svg>
      </svg>
    </>
  );
}

/** What hangs at the left: an open eyelet, a dashed one, a wire through it, a chocked wheel, a peg. */
export function TagEyelet({ state }: { state: TagState }): JSX.Element {
  return (
    <svg class="tag-eyelet" viewBox="0 0 32 32" fill="none" stroke="currentColor" aria-hidden="true">
      {eyelet(state)}
    </svg>
  );
}

function eyelet(state: TagState): JSX.Element {
  switch (state) {
    case "waiting":
    case "left_out":
      return <circle cx="16" cy="16" r="10" stroke-width="3" stroke-dasharray="5 5.5" />;
    case "ready":
    case "check_due":
    case "closed":
    case "ready_undone":
      return <circle cx="16" cy="16" r="10" stroke-width="3" />;
    case "taken":
      return (
        <>
          <circle cx="16" cy="16" r="10" stroke-width="3" />
          <path
            d="M-14 6 C-6 4 6 10 14 18 C18 23 12 27 9 22 C6 17 0 24 -14 26"
            stroke-width="3"
            stroke-linecap="round"
          />
        </>
      );
    case "stuck":
      return (
        <>
          <circle cx="12" cy="15" r="10" stroke-width="3" />
          <circle cx="12" cy="15" r="1.5" fill="currentColor" stroke="none" />
          <path d="M20 27 H31 V13 Z" fill="currentColor" stroke="none" />
          <path d="M0 27.5 H31" stroke-width="2.5" />
        </>
      );
    case "not_for_you":
      return (
        <>
          <path d="M16 0 V9" stroke-width="3" stroke-linecap="round" />
          <circle cx="16" cy="19" r="9" stroke-width="3" stroke-dasharray="0.5 6.5" stroke-linecap="round" />
        </>
      );
  }
}

/** Witness paint: inside the tag while a check is due, across its edge when closed, broken when undone. */
export function TagStroke({ state }: { state: TagState }): JSX.Element | null {
  if (state !== "check_due" && state !== "closed" && state !== "ready_undone") return null;
  return (
    <svg
      class={`tag-stroke tag-stroke-${state.replaceAll("_", "-")}`}
      viewBox="0 0 72 40"
      fill="none"
      stroke="currentColor"
      stroke-width="6"
      stroke-linecap="round"
      aria-hidden="true"
    >
      {state === "check_due" && <path d="M18 34 C26 26 36 16 50 8" />}
      {state === "closed" && <path d="M22 36 C38 26 58 10 80 -2" />}
      {state === "ready_undone" && <path d="M12 36 L28 26 M44 15 L62 3" />}
    </svg>
  );
}
