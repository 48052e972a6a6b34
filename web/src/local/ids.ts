/** Ids made on the phone: UUIDv7, so that they sort by time. `crypto.randomUUID` is absent over plain http. */

let last = 0;

/** An id made here before, perhaps by a page that is gone: the next one comes after it, whatever the clock says now. */
export function seenId(id: string): void {
  const made = Number.parseInt(id.slice(0, 8) + id.slice(9, 13), 16);
  if (made > last) last = made;
}

export function newId(now: number = Date.now()): string {
  last = Math.max(last + 1, now); // never twice the same moment: order on this phone is the order made
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 0; i < 6; i += 1) bytes[i] = Math.floor(last / 2 ** (8 * (5 - i))) & 0xff;
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x70;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}
