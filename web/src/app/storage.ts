/** Whether this browser keeps what the app stored, or may clear it when space runs out. */

import { signal } from "@preact/signals";
import { picturesTake } from "../local/pictures";
import { sentPhotosTake } from "../local/sentPhotos";

/** `null`: the browser does not say. */
export const storageKept = signal<boolean | null>(null);
export const storageUsed = signal<{ used: number; quota: number } | null>(null);

/** Photos of the record that are kept for when there is no connection. */
export const picturesKept = signal<{ count: number; bytes: number } | null>(null);

/** Photos that were sent from here, and stay for a while. */
export const sentKept = signal<{ count: number; bytes: number } | null>(null);

export async function lookAtStorage(): Promise<void> {
  picturesKept.value = await picturesTake();
  sentKept.value = await sentPhotosTake();
  const storage = navigator.storage;
  storageKept.value = (await storage?.persisted?.()) ?? null;
  const told = await storage?.estimate?.();
  storageUsed.value = told?.quota ? { used: told.usage ?? 0, quota: told.quota } : null;
}

/** False where the browser has no such thing to ask for, as over plain HTTP. */
export function mayAsk(): boolean {
  return typeof navigator.storage?.persist === "function";
}

/** The person asks for it. Browsers that want to know more of an address first say no without a word. */
export async function pressToKeep(): Promise<boolean> {
  const kept = (await navigator.storage?.persist?.()) ?? false;
  await lookAtStorage();
  return kept;
}

let asked = false;

/** Ask the browser to keep it, once a page, when the first thing waits: a browser that asks the person then has a reason. */
export async function askToKeep(): Promise<void> {
  if (asked) return;
  asked = true;
  if (!(await navigator.storage?.persisted?.())) await navigator.storage?.persist?.();
  await lookAtStorage();
}
