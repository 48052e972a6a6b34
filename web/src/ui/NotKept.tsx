/** What this phone could not store is lost when the screen goes: so it is said, in full, until somebody has written it down. */

import type { JSX } from "preact";
import { mine, notKept } from "../app/outbox";
import { Button, RefusalPanel } from "./parts";
import { commandWords, typedWords } from "./words/commands";

export function NotKept(): JSX.Element | null {
  const lost = notKept.value;
  if (!lost || !mine(lost)) return null;
  return (
    <RefusalPanel
      sentence={`Not kept: ${commandWords(lost.envelope)}. ${typedWords(lost.envelope)}`.trim()}
      remedy="This phone could not store it. Write it down, make room on the phone, then say it again."
    >
      <Button
        label="I have it"
        size={48}
        onPress={() => {
          notKept.value = null;
        }}
      />
    </RefusalPanel>
  );
}
