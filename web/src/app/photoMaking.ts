/**
 * A photo as it leaves this phone: scaled, and drawn anew, so that nothing but the picture is in it - no position, no
 * camera, no moment.
 */

import type { WaitingPhoto } from "../local/photos";

const LONGEST_PX = 1800;
const QUALITY = 0.82;

export type NewPhoto = Pick<WaitingPhoto, "sha256" | "kind" | "bytes">;

/** This phone can't read the file as a picture. */
export class NoPicture extends Error {}

/** Width and height with the longer side at most `longest` px, never larger than it was. */
export function scaled(
  width: number,
  height: number,
  longest = LONGEST_PX,
): { width: number; height: number } {
  const times = Math.min(1, longest / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * times)), height: Math.max(1, Math.round(height * times)) };
}

/** Make a photo of a file. Throws `NoPicture`. */
export async function photoOf(file: Blob): Promise<NewPhoto> {
  const picture = await pictureOf(file);
  const { width, height } = scaled(picture.naturalWidth, picture.naturalHeight);
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  const drawn = canvas.getContext("2d");
  if (!drawn) throw new NoPicture("no canvas here");
  drawn.drawImage(picture, 0, 0, width, height);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
  if (!blob) throw new NoPicture("the canvas gave nothing back");
  const bytes = await blob.arrayBuffer();
  return { sha256: await sha256Of(bytes), kind: "image/jpeg", bytes };
}

/** Read by the browser as an image is, the right way up. Throws `NoPicture`. */
export async function pictureOf(file: Blob): Promise<HTMLImageElement> {
  const url = URL.createObjectURL(file);
  const picture = new Image();
  picture.src = url;
  try {
    await picture.decode();
  } catch (cause) {
    throw new NoPicture("not a picture this browser reads", { cause });
  } finally {
    URL.revokeObjectURL(url);
  }
  return picture;
}

/** Hex. Over plain HTTP a browser has no digest of its own, so one is loaded. */
export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = globalThis.crypto?.subtle
    ? new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))
    : (await import("@noble/hashes/sha2.js")).sha256(new Uint8Array(bytes));
  return [...digest].map((one) => one.toString(16).padStart(2, "0")).join("");
}
