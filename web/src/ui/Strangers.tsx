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
      sentence={`${count} made on this phone by somebody whom the crew does not know now.`}
      remedy="Was it you, as a guest whose day was over, or before the service was put back? Then they go as yours. Else leave them."
    >
      <Button label="I made them" size={56} onPress={() => void takeAsMine()} />
    </RefusalPanel>
  );
}
