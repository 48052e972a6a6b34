/** *Shut this phone out*: at once, and for good, so it is asked back first (R29). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Asking } from "./askNow";
import { Button, Dialog, MainButton, RefusalPanel } from "./parts";

export interface ShutOutProps {
  device: string;
  person: string;
  /** "A phone of Bram's, last seen 10:32" */
  which: string;
  asking: Asking;
  onDone: () => void;
}

export function ShutOut({ device, person, which, asking, onDone }: ShutOutProps): JSX.Element {
  const [asked, setAsked] = useState(false);
  const close = () => {
    asking.clear();
    setAsked(false);
  };
  async function shutOut(): Promise<void> {
    if (await asking.ask(`/devices/${device}/shut-out`, { person })) {
      setAsked(false);
      onDone();
    }
  }
  return (
    <>
      <Button label="Shut this phone out" size={48} onPress={() => setAsked(true)} />
      {asked && (
        <Dialog
          open
          title="Shut this phone out?"
          onClose={close}
          foot={<Button label="Leave it as it is" size={64} wide first onPress={close} />}
        >
          <div class="stack">
            <p>
              <strong>{which}.</strong>
            </p>
            <p>
              It is out at its next request, and can't be let in again: it needs a new code, as a new phone.
              What it has not handed over stays on it, and what it knew of the build goes from it.
            </p>
            {asking.problem && (
              <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
            )}
            <MainButton
              label="Shut it out"
              blocked={asking.busy ? "one moment" : undefined}
              onPress={() => void shutOut()}
            />
          </div>
        </Dialog>
      )}
    </>
  );
}
