/** What the app takes on this phone, and whether the browser may clear it. */

import type { JSX } from "preact";
import { useEffect } from "preact/hooks";
import { lookAtStorage, picturesKept, storageKept, storageUsed } from "../app/storage";
import { BUDGET_BYTES } from "../local/pictures";

const mib = (bytes: number): number => Math.ceil(bytes / 2 ** 20);

function photoWords({ count, bytes }: { count: number; bytes: number }): string {
  if (count === 0) return `No photos of the crew yet; at most ${mib(BUDGET_BYTES)} MiB of them are kept.`;
  const photos = count === 1 ? "1 photo" : `${count} photos`;
  return `${photos} of the crew, for when there is no connection: ${mib(bytes)} of at most ${mib(BUDGET_BYTES)} MiB. Those not looked at for longest go first.`;
}

export function Storage(): JSX.Element {
  useEffect(() => void lookAtStorage(), []);
  const used = storageUsed.value;
  return (
    <section class="stack" aria-labelledby="storage">
      <h2 id="storage">Kept on this phone</h2>
      {picturesKept.value && <p>{photoWords(picturesKept.value)}</p>}
      {used && (
        <p>
          {mib(used.used)} MiB of about {mib(used.quota)} are used here, all together.
        </p>
      )}
      <p class="t-dim">
        {storageKept.value
          ? "This browser promised not to clear it."
          : "This browser may clear it if space runs out."}
      </p>
    </section>
  );
}
