/**
 * Addresses for <img> of pictures by their digest, shared by all who show one: a picture that goes from one part of a
 * screen to another (from what waits to the record) keeps its address, and the browser draws it without decoding anew.
 */

const LINGER_MS = 5_000;

interface Shared {
  url: string;
  users: number;
  timer?: ReturnType<typeof setTimeout>;
}
const shared = new Map<string, Shared>();

/** The address of a picture that is shown already, or was until a moment ago. */
export function urlShown(sha256: string): string | null {
  return shared.get(sha256)?.url ?? null;
}

/** Show a picture; let it go with `unused`, once for each time. */
export function urlOf(sha256: string, picture: Blob): string {
  let found = shared.get(sha256);
  if (!found) {
    found = { url: URL.createObjectURL(picture), users: 0 };
    shared.set(sha256, found);
  }
  clearTimeout(found.timer);
  found.users += 1;
  return found.url;
}

export function unused(sha256: string): void {
  const found = shared.get(sha256);
  if (!found) return;
  found.users -= 1;
  if (found.users > 0) return;
  found.timer = setTimeout(() => {
    URL.revokeObjectURL(found.url);
    shared.delete(sha256);
  }, LINGER_MS);
}
