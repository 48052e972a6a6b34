/**
 * All that this phone keeps, in one database:
 *   rows    the mirror of the service's rows, as this person may see them
 *   outbox  commands not yet answered, and refused ones not yet looked at; kept until answered, nothing expires
 *   photos  photos whose bytes the service has not got yet
 *   sent_photos
 *           photos of one's own that the service has, for a while, should it lose them
 *   pictures, picture_bytes
 *           photos of the record, kept for when there is no connection: which, and their bytes apart
 *   kept    acknowledged commands of the last 30 days (a restored service may ask for them again)
 *   views   the last prepared answer per address, with its ETag, so that screens open without a connection
 *   facts   small things: cursor per build, who I am, people's names, looks of this phone
 */

import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Envelope, Problem } from "../wire/core";

export interface MirrorRow {
  build: string;
  kind: string;
  id: string;
  changed_at: number;
  body: Record<string, unknown>;
}

/** Handed over, and not judged: how often, since when, and what the service said the last time, if it said anything. */
export interface InVain {
  times: number;
  since_ms: number;
  problem?: Problem;
}

export interface Waiting {
  id: string;
  build: string;
  by?: string; // who was at this phone; goes only while they are
  envelope: Envelope;
  made_ms: number;
  state: "waiting" | "refused";
  problem?: Problem;
  in_vain?: InVain;
}

export interface KeptView {
  address: string; // build + path
  etag: string | null;
  at_ms: number; // when the service last said that it is so
  known?: string; // what this phone had heard of when it asked
  body: unknown;
}

export interface WaitingPhoto {
  sha256: string;
  build: string;
  kind: string; // image/jpeg
  bytes: ArrayBuffer; // not a Blob: some browsers lose those
  made_ms: number;
  by?: string; // who was at this phone; goes only while they are
  state: "waiting" | "refused";
  problem?: Problem;
  in_vain?: InVain;
}

export interface SentPhoto extends Omit<WaitingPhoto, "in_vain" | "problem"> {
  sent_ms: number;
  size: number; // bytes
}

/** A photo of the record that is kept here; its bytes lie apart, so that it can be counted without reading them. */
export interface KeptPicture {
  build: string;
  sha256: string;
  kind: string;
  size: number;
  seen_ms: number; // when it was last looked at, or fetched ahead
}

export interface Shape extends DBSchema {
  rows: { key: [string, string, string]; value: MirrorRow; indexes: { build: string } };
  outbox: { key: string; value: Waiting; indexes: { build: string } };
  photos: { key: [string, string]; value: WaitingPhoto };
  sent_photos: { key: [string, string]; value: SentPhoto; indexes: { sent: [number, number] } }; // when, and how large
  pictures: { key: [string, string]; value: KeptPicture };
  picture_bytes: { key: [string, string]; value: ArrayBuffer };
  kept: { key: string; value: Waiting & { answered_ms: number } };
  views: { key: string; value: KeptView };
  facts: { key: string; value: unknown };
}

const VERSION = 4;
let opened: Promise<IDBPDatabase<Shape>> | undefined;

export function database(): Promise<IDBPDatabase<Shape>> {
  opened ??= open().catch((why: unknown) => {
    // A service that was put back to an older version: its app does with what a newer one kept, which only has more.
    if (why instanceof DOMException && why.name === "VersionError") return openDB<Shape>("yokemate");
    opened = undefined; // tried anew by whoever comes next
    throw why;
  });
  return opened;
}

/** The one that was open is of no use any more. */
export function openAnew(): void {
  opened = undefined;
}

function open(): Promise<IDBPDatabase<Shape>> {
  return openDB<Shape>("yokemate", VERSION, {
    async upgrade(db, before, _wanted, tx) {
      if (before < 1) {
        db.createObjectStore("rows", { keyPath: ["build", "kind", "id"] }).createIndex("build", "build");
        db.createObjectStore("outbox", { keyPath: "id" }).createIndex("build", "build");
        db.createObjectStore("kept", { keyPath: "id" });
        db.createObjectStore("views", { keyPath: "address" });
        db.createObjectStore("facts");
      }
      if (before < 2) db.createObjectStore("photos", { keyPath: ["build", "sha256"] });
      if (before < 3) {
        db.createObjectStore("pictures", { keyPath: ["build", "sha256"] });
        db.createObjectStore("picture_bytes");
        // Rows tell of what was withdrawn since this version: all are fetched anew, those of earlier days too.
        const facts = tx.objectStore("facts");
        for (const key of await facts.getAllKeys()) if (key.startsWith("cursor:")) await facts.delete(key);
      }
      if (before < 4) {
        const sent = db.createObjectStore("sent_photos", { keyPath: ["build", "sha256"] });
        sent.createIndex("sent", ["sent_ms", "size"]);
      }
    },
    // The browser itself ended it, as some do while an app lies in the background: the next one opens it again.
    terminated() {
      opened = undefined;
    },
    // Another tab has a newer version of the app and waits for this one: make room, and become the newer one too.
    blocking(_here, _wanted, event) {
      (event.target as IDBDatabase).close();
      location.reload();
    },
  });
}
