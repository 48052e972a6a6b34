/**
 * What has not been sent, as a file: for a phone whose address is gone, since a browser keeps what it holds by scheme,
 * name and port. It is taken in where the same person is enrolled anew; from there it goes the ordinary way.
 *
 * Every command keeps its id, so the service does it once, whichever of a person's phones brings it, and however often.
 */

import { keepPhoto } from "../local/photos";
import { keep, knownIds, type Waiting } from "../local/store";
import type { Envelope } from "../wire/core";
import { mine, outbox, refreshOutbox } from "./outbox";
import { sha256Of } from "./photoMaking";
import { photosHere, refreshPhotos } from "./photos";
import { build, me, wake } from "./session";

export const FORMAT = "yokemate-unsent/1";

export interface UnsentFile {
  format: typeof FORMAT;
  build: { id: string; name: string };
  person: { id: string; name: string };
  from: string; // the address it was kept at
  saved_ms: number;
  commands: { made_ms: number; envelope: Envelope }[];
  photos: { kind: string; made_ms: number; base64: string }[];
}

/** Why a file was not taken in, and what to do. Nothing of it was kept. */
export class NotTakenIn extends Error {
  constructor(
    readonly sentence: string,
    readonly remedy: string,
  ) {
    super(sentence);
  }
}

/** All that waits for the open build. Nothing leaves the phone by that: it stays until the service has it. */
export function unsentFile(now: number = Date.now()): UnsentFile {
  const here = build.value;
  const person = me.value;
  if (!here || !person?.person) throw new Error("nobody is known at this phone");
  const waiting = outbox.value.filter((one) => one.build === here.id && one.state === "waiting" && mine(one));
  return {
    format: FORMAT,
    build: { id: here.id, name: here.name },
    person: { id: person.person, name: person.name ?? "" },
    from: location.origin,
    saved_ms: now,
    commands: waiting.map(({ made_ms, envelope }) => ({ made_ms, envelope })),
    photos: photosHere.value
      .filter((one) => one.build === here.id && one.state === "waiting" && mine(one))
      .map(({ kind, made_ms, bytes }) => ({ kind, made_ms, base64: toBase64(bytes) })),
  };
}

function toBase64(bytes: ArrayBuffer): string {
  let text = "";
  for (const one of new Uint8Array(bytes)) text += String.fromCharCode(one);
  return btoa(text);
}

function fromBase64(text: string): ArrayBuffer {
  return Uint8Array.from(atob(text), (one) => one.charCodeAt(0)).buffer;
}

export function fileName(file: UnsentFile): string {
  const plain = (words: string) =>
    words
      .normalize("NFKD")
      .replace(/[^A-Za-z0-9]+/g, "-")
      .replace(/^-|-$/g, "")
      .toLowerCase();
  const day = new Date(file.saved_ms).toISOString().slice(0, 10);
  return `unsent-${plain(file.build.name)}-${plain(file.person.name)}-${day}.json`;
}

/** Give the file to the browser, which asks where to put it. */
export function save(file: UnsentFile): void {
  const blob = new Blob([JSON.stringify(file, null, 1)], { type: "application/json" });
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = fileName(file);
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

const NOT_OURS = new NotTakenIn(
  "This is no file of unsent work.",
  "Choose the one that was saved as unsent-….",
);

/** Read a file. Throws `NotTakenIn`, with the reason in words. */
export function read(text: string): UnsentFile {
  let said: Partial<UnsentFile> | null;
  try {
    said = JSON.parse(text) as Partial<UnsentFile> | null;
  } catch {
    throw NOT_OURS;
  }
  if (typeof said !== "object" || said === null || !said.format?.startsWith("yokemate-unsent/"))
    throw NOT_OURS;
  if (said.format !== FORMAT) {
    throw new NotTakenIn(
      "This file comes from another version of Yokemate.",
      "Take the new version, then take the file in again.",
    );
  }
  if (!Array.isArray(said.commands) || !said.commands.every(wellFormed)) throw NOT_OURS;
  if (!Array.isArray(said.photos) || !said.photos.every(readable)) throw NOT_OURS;
  return said as UnsentFile;
}

function wellFormed(one: Partial<UnsentFile["commands"][number]> | null): boolean {
  const envelope = one?.envelope;
  return (
    typeof one?.made_ms === "number" &&
    typeof envelope?.id === "string" &&
    typeof envelope.kind === "string" &&
    typeof envelope.body === "object" &&
    envelope.body !== null
  );
}

function readable(one: Partial<UnsentFile["photos"][number]> | null): boolean {
  return (
    typeof one?.kind === "string" &&
    typeof one.made_ms === "number" &&
    typeof one.base64 === "string" &&
    /^[A-Za-z0-9+/]*={0,2}$/.test(one.base64)
  );
}

/** Put what a file holds into this phone's outbox. Says how many are new here, and how many it knew already. */
export async function takeIn(text: string): Promise<{ taken: number; known: number }> {
  const file = read(text);
  const here = build.value;
  if (!here || file.build?.id !== here.id) {
    throw new NotTakenIn(
      `This file belongs to ${file.build?.name || "another build"}.`,
      "Open that build here, then take it in.",
    );
  }
  if (file.person?.id !== me.value?.person) {
    throw new NotTakenIn(
      `This is ${file.person?.name || "somebody else"}'s work, and you are ${me.value?.name ?? "not them"}.`,
      "Take it in on a phone of theirs: the lead can give them a code for a new phone under Crew.",
    );
  }
  const known = await knownIds(file.commands.map((one) => one.envelope.id));
  const fresh = file.commands.filter((one) => !known.has(one.envelope.id));
  for (const { made_ms, envelope } of fresh) {
    const waiting: Waiting = {
      id: envelope.id,
      build: here.id,
      by: file.person.id,
      envelope,
      made_ms,
      state: "waiting",
    };
    await keep(waiting);
  }
  for (const { kind, made_ms, base64 } of file.photos) {
    const bytes = fromBase64(base64);
    await keepPhoto({
      sha256: await sha256Of(bytes),
      build: here.id,
      by: file.person.id,
      kind,
      bytes,
      made_ms,
      state: "waiting",
    });
  }
  await refreshPhotos();
  await refreshOutbox();
  wake();
  return { taken: fresh.length, known: file.commands.length - fresh.length };
}
