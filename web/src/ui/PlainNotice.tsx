/** What this address lacks, where it is plain http. Nothing on a secure one. */

import type { JSX } from "preact";
import { NoticeLine } from "./parts";

export function PlainNotice(): JSX.Element | null {
  if (window.isSecureContext) return null;
  return (
    <NoticeLine>
      This address is plain http: the app stays open without a connection and keeps what you do, but it can't
      be opened anew without one, the screen may go dark in a lift, codes can't be scanned, and PINs cross the
      network unencrypted (the record says so). How to get the rest: the lead serves it by https, see the
      README, Serve your own crew.
    </NoticeLine>
  );
}
