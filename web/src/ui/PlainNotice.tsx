/** What this address lacks, where it is plain http. Nothing on a secure one. */

import type { JSX } from "preact";
import { NoticeLine } from "./parts";

export function PlainNotice(): JSX.Element | null {
  if (window.isSecureContext) return null;
  return (
    <NoticeLine>
      This address is plain http. Without a connection keep the app open: it can't be opened anew. The screen
      may go dark in a lift, codes can't be scanned, PINs travel unencrypted (the record says so). The lead
      can serve it by https: README, Serve your own crew.
    </NoticeLine>
  );
}
