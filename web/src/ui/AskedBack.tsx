/** A press that can't be taken back is asked back first: what it does, and the way to leave it (R29). */

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import type { Asking } from "./askNow";
import { Button, Dialog, MainButton, RefusalPanel } from "./parts";

export interface AskedBackProps {
  /** The button that stands on the screen. */
  button: { label: string; size?: 48 | 56; kind?: "quiet" };
  /** "Shut this phone out?" */
  question: string;
  /** The button that does it. */
  does: string;
  asking: Asking;
  /** Sends it; true when it is done. */
  onSure: () => Promise<boolean>;
  /** What it does, in words. */
  children: ComponentChildren;
}

export function AskedBack({ button, question, does, asking, onSure, children }: AskedBackProps): JSX.Element {
  const [asked, setAsked] = useState(false);
  const close = () => {
    asking.clear();
    setAsked(false);
  };
  return (
    <>
      <Button {...button} onPress={() => setAsked(true)} />
      {asked && (
        <Dialog
          open
          title={question}
          onClose={close}
          foot={<Button label="Leave it as it is" size={64} wide first onPress={close} />}
        >
          <div class="stack">
            {children}
            {asking.problem && (
              <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
            )}
            <MainButton
              label={does}
              blocked={asking.busy ? "one moment" : undefined}
              onPress={async () => {
                if (await onSure()) setAsked(false);
              }}
            />
          </div>
        </Dialog>
      )}
    </>
  );
}
