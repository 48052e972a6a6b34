/** What the app takes on this phone, and whether the browser may clear it. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import {
  lookAtStorage,
  mayAsk,
  picturesKept,
  pressToKeep,
  sentKept,
  storageKept,
  storageUsed,
} from "../app/storage";
import { BUDGET_BYTES } from "../local/pictures";
import { BUDGET_BYTES as SENT_BUDGET_BYTES } from "../local/sentPhotos";
import { Button, NoticeLine } from "./parts";

/** "2 MB", "11 GB", as a phone's own settings say it. */
const size = (bytes: number): string =>
  bytes < 1e9 ? `${Math.ceil(bytes / 1e6)} MB` : `${Math.round(bytes / 1e9)} GB`;

function photoWords({ count, bytes }: { count: number; bytes: number }): string {
  if (count === 0) return `No photos of the crew yet; at most ${size(BUDGET_BYTES)} of them are kept.`;
  const photos = count === 1 ? "1 photo" : `${count} photos`;
  return `${photos} of the crew, for when there is no connection: ${size(bytes)} of at most ${size(BUDGET_BYTES)}. Those not looked at for longest go first.`;
}

function sentWords({ count, bytes }: { count: number; bytes: number }): string {
  const photos = count === 1 ? "1 photo" : `${count} photos`;
  return `${photos} you have sent, should the service lose them: ${size(bytes)} of at most ${size(SENT_BUDGET_BYTES)}, for 30 days.`;
}

/** Whether what is on this phone stays there, and the button that asks for it. */
function KeptHere(): JSX.Element {
  const [no, setNo] = useState(false);
  if (storageKept.value) return <p class="t-dim">This browser promised not to clear it.</p>;
  return (
    <>
      <p class="t-dim">This browser may clear it if space runs out.</p>
      {mayAsk() && <Button label="Ask to keep it" onPress={async () => setNo(!(await pressToKeep()))} />}
      {no && (
        <NoticeLine>
          The browser does not promise it yet. Put Yokemate on the home screen and ask again: most then do.
        </NoticeLine>
      )}
    </>
  );
}

export function Storage(): JSX.Element {
  useEffect(() => void lookAtStorage(), []);
  const used = storageUsed.value;
  return (
    <section class="stack" aria-labelledby="storage">
      <h2 id="storage">Kept on this phone</h2>
      {picturesKept.value && <p>{photoWords(picturesKept.value)}</p>}
      {sentKept.value && sentKept.value.count > 0 && <p>{sentWords(sentKept.value)}</p>}
      {used && (
        <p>
          {size(used.used)} of about {size(used.quota)} are used here, all together.
        </p>
      )}
      <KeptHere />
    </section>
  );
}
