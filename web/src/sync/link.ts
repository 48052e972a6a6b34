/** Is the service reachable? Told by answers only: `navigator.onLine` knows the radio, not the service. */

import { signal } from "@preact/signals";

export interface Link {
  up: boolean;
  since_ms: number; // since when it is so
  offset_ms: number; // the service's clock minus this phone's, at last contact
}

export const link = signal<Link>({ up: true, since_ms: Date.now(), offset_ms: 0 });

export function heard(serverMs?: number): void {
  const offset = serverMs === undefined ? link.value.offset_ms : Math.round(serverMs - Date.now());
  if (!link.value.up) link.value = { up: true, since_ms: Date.now(), offset_ms: offset };
  else if (Math.abs(offset - link.value.offset_ms) > 500) link.value = { ...link.value, offset_ms: offset };
}

export function silent(): void {
  if (link.value.up) link.value = { ...link.value, up: false, since_ms: Date.now() };
}
