/** The queue, as a screen. */

import type { JSX } from "preact";
import { fullNameOf } from "../../app/session";
import QueueList from "../lists/QueueList";
import { Screen } from "../Screen";

export default function Queue({ person }: { person?: string }): JSX.Element {
  return (
    <Screen title={person ? `Queue of ${fullNameOf(person)}` : "Queue"} place="queue">
      <QueueList person={person} />
    </Screen>
  );
}
