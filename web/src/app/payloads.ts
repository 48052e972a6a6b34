/**
 * Free words by their payload id (R1). They never change, so what this phone once had is not asked for again; when they
 * are withdrawn, a row says so and they go from this phone with the exchange that brings it.
 */

import { useEffect, useState } from "preact/hooks";
import { keepPayload, keptView, payloadAddress } from "../local/store";
import { link } from "../sync/link";
import { call, NoConnection, Refusal } from "../wire/call";
import { rows } from "./mirror";
import { build } from "./session";

export interface FreeWords {
  text: string | null;
  /** Said instead of the words: withdrawn, or not on this phone yet. */
  instead: string | null;
}

/** What a payload stands for: words, or the digest of a photo. */
export interface Stood {
  text?: string | null;
  photo?: string | null;
}

export const GONE = "withdrawn";
export const UNSEEN = "unseen";

/** From this phone, or else from the service. */
export async function stoodFor(here: string, id: string): Promise<Stood | typeof GONE | typeof UNSEEN> {
  const kept = (await keptView(payloadAddress(here, id)))?.body as Stood | undefined;
  if (kept?.text || kept?.photo) return kept;
  try {
    const { body } = await call<Stood>("GET", `/api/builds/${here}/payloads/${id}`);
    await keepPayload(here, id, { text: body.text ?? null, photo: body.photo ?? null });
    return body;
  } catch (why) {
    if (why instanceof Refusal && why.problem.code === "withdrawn") return GONE;
    if (!(why instanceof Refusal || why instanceof NoConnection)) throw why;
    return UNSEEN;
  }
}

async function ask(here: string, id: string): Promise<FreeWords> {
  const found = await stoodFor(here, id);
  if (found === UNSEEN) return { text: null, instead: "(shown when connected)" };
  return found === GONE ? WITHDRAWN : { text: found.text ?? null, instead: null };
}

const WITHDRAWN: FreeWords = { text: null, instead: "(withdrawn)" };

/** `undefined` while it is looked up. `meanwhile`: the words, where this phone typed them itself. */
export function useWords(id: string | null | undefined, meanwhile?: string): FreeWords | undefined {
  const [words, setWords] = useState<FreeWords | undefined>(
    meanwhile === undefined ? undefined : { text: meanwhile, instead: null },
  );
  const here = build.value?.id;
  const up = link.value.up;
  const gone = id ? rows("withdrawal").has(id) : false;
  useEffect(() => {
    let shown = true;
    if (!id || !here) setWords(undefined);
    else if (!gone) void ask(here, id).then((found) => shown && setWords(found));
    return () => {
      shown = false;
    };
  }, [id, here, up, gone]);
  return gone ? WITHDRAWN : words;
}
