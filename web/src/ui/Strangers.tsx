/** What somebody made here who is gone: theirs, says who is here now, or not. */

import type { JSX } from "preact";
import { ofStrangers, takeAsMine } from "../app/strangers";
import { Button, RefusalPanel } from "./parts";

export function Strangers(): JSX.Element | null {
  const { commands, photos } = ofStrangers.value;
  const count = commands.length + photos.length;
  if (count === 0) return null;
  return (
    <RefusalPanel
      sentence={`${count} made on this phone by somebody who is not on the crew any more, or not known to it.`}
      remedy="A guest's day may have been over, or the service put back to before you joined. If you made them, they go as yours; else leave them."
    >
      <Button label="I made them" size={56} onPress={() => void takeAsMine()} />
    </RefusalPanel>
  );
}
