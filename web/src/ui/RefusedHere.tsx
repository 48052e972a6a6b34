/** Refused commands of this phone about one thing, said where the person pressed, until they have looked (R4). */

import type { JSX } from "preact";
import { letGo, refusedOn } from "../app/outbox";
import { BroughtIntoView } from "./BroughtIntoView";
import { MendIt } from "./mending";
import { Button, RefusalPanel } from "./parts";
import { typedWords } from "./words/commands";

export function RefusedHere({ about }: { about: Record<string, unknown> }): JSX.Element {
  return (
    <>
      {refusedOn(about).map((one) => (
        <BroughtIntoView key={one.id}>
          <RefusalPanel
            sentence={one.problem?.detail ?? "It was refused."}
            remedy={one.problem?.way_on}
            typed={typedWords(one.envelope) || undefined}
          >
            <div class="row-of-buttons">
              <MendIt of={one} />
              <Button label="Let it go" size={56} onPress={() => void letGo(one.id)} />
            </div>
          </RefusalPanel>
        </BroughtIntoView>
      ))}
    </>
  );
}
