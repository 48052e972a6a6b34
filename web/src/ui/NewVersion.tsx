/** A newer version of the app: here and waiting for a yes, or taken in another window. What waits on the phone stays. */

import type { JSX } from "preact";
import { waitingCount } from "../app/outbox";
import { shellState, takeNewVersion } from "../app/shell";
import { Button, NoticeLine } from "./parts";

export function NewVersion(): JSX.Element | null {
  if (shellState.value === "waiting") {
    return (
      <div class="row-of-buttons">
        <NoticeLine>
          A new version of the app is here.{waitingCount.value > 0 && " What you have not sent stays."}
        </NoticeLine>
        <Button label="Take the new version" size={48} onPress={takeNewVersion} />
      </div>
    );
  }
  if (shellState.value === "taken") {
    return (
      <div class="row-of-buttons">
        <NoticeLine>The new version opens in a moment.</NoticeLine>
        <Button label="Take it again" size={48} onPress={takeNewVersion} />
      </div>
    );
  }
  if (shellState.value === "replaced") {
    return (
      <div class="row-of-buttons">
        <NoticeLine>The app was renewed in another window.</NoticeLine>
        <Button label="Open it anew" size={48} onPress={() => location.reload()} />
      </div>
    );
  }
  return null;
}
