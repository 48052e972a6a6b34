/** What a label leads to. It holds an address of this service; after the service moved only its path still counts. */

const OURS = /^\/(bags|tasks|lifts|groups)\/[A-Za-z][A-Za-z0-9_.-]{0,39}$/;

/** The place in the app that a scanned text leads to, or null when it is no label of ours. */
export function placeOf(text: string): string | null {
  let address: URL;
  try {
    address = new URL(text);
  } catch {
    return null;
  }
  if (address.protocol !== "https:" && address.protocol !== "http:") return null;
  return OURS.test(address.pathname) && !address.search && !address.hash ? address.pathname : null;
}

/** What goes onto a label. */
export function labelText(kind: "bags" | "tasks", id: string, origin = location.origin): string {
  return `${origin}/${kind}/${id}`;
}
