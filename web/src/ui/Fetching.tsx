/** What stands where an answer is still wanted: it is on its way, or it never reached this phone. */

import type { JSX } from "preact";
import { link } from "../sync/link";
import { EmptyState, LoadingTags } from "./parts";

export function Fetching({ sentence }: { sentence?: string }): JSX.Element {
  if (link.value.up) return sentence ? <LoadingTags sentence={sentence} /> : <LoadingTags />;
  return (
    <EmptyState sentence="There is no connection, and this was never fetched on this phone. It comes by itself when the connection is back." />
  );
}
