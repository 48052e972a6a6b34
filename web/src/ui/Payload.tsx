/** Free words are payloads, fetched by their id; a withdrawn one says so. */

import type { JSX } from "preact";
import { useWords } from "../app/payloads";

export function Payload(props: {
  id: string | null | undefined;
  /** As typed on this phone. */
  meanwhile?: string | undefined;
}): JSX.Element | null {
  const words = useWords(props.id, props.meanwhile);
  return props.id ? <span>{words ? (words.text ?? words.instead) : "…"}</span> : null;
}
