/** *Take off the crew*: what they signed stays, what they had taken is free; coming back wants a new invite (R29, R30). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { shortNameOf } from "../app/session";
import { useNow } from "./askNow";
import { go } from "./go";
import { Button, Dialog, MainButton, RefusalPanel } from "./parts";

export function TakeOff({ person }: { person: string }): JSX.Element {
  const [asked, setAsked] = useState(false);
  const asking = useNow();
  const name = shortNameOf(person);
  const close = () => {
    asking.clear();
    setAsked(false);
  };
  return (
    <>
      <Button label={`Take ${name} off the crew`} kind="quiet" onPress={() => setAsked(true)} />
      {asked && (
        <Dialog
          open
          title={`Take ${name} off the crew?`}
          onClose={close}
          foot={<Button label="Leave it as it is" size={64} wide first onPress={close} />}
        >
          <div class="stack">
            <p>
              What {name} signed stays in the record. Tasks and places that {name} has are free again, and no
              phone of {name}'s gets in. Coming back wants a new invite.
            </p>
            {asking.problem && (
              <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
            )}
            <MainButton
              label="Take off the crew"
              blocked={asking.busy ? "one moment" : undefined}
              onPress={async () => {
                if (await asking.ask(`/members/${person}/leave`)) go("/crew");
              }}
            />
          </div>
        </Dialog>
      )}
    </>
  );
}
