import type { JSX } from "preact";
import { link } from "../sync/link";
import { moment } from "./words/times";

/** "As of 10:32", when what is shown is not fresh. */
export function AsOf({ at_ms }: { at_ms: number | null }): JSX.Element | null {
  if (link.value.up || at_ms === null) return null;
  return <p class="t-small t-dim">As of {moment(at_ms)}</p>;
}
