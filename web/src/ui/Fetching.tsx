/** What stands where an answer is still wanted: it is on its way, or it never reached this phone. */

import type { JSX } from "preact";
import { link } from "../sync/link";
import { EmptyState, LoadingTags } from "./parts";

export function Fetching({ sentence }: { sentence?: string }): JSX.Element {
  if (link.value.up) return sentence ? <LoadingTags sentence={sentence} /> : <LoadingTags />;
  return (
    <EmptyState sentence="This phone never had this, and there is no connection. Go where there is a signal: it comes by itself, and stays here." />
  );
}
