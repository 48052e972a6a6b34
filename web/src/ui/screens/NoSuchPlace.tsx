/** An address that leads nowhere. */

import type { JSX } from "preact";
import { LinkButton } from "../parts";
import { Screen } from "../Screen";

export default function NoSuchPlace(): JSX.Element {
  return (
    <Screen title="No such place" place="queue">
      <LinkButton label="Back to the queue" href="/" />
    </Screen>
  );
}
