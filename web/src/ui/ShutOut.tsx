/** *Shut this phone out*: at once, and for good, so it is asked back first (R29). */

import type { JSX } from "preact";
import { AskedBack } from "./AskedBack";
import type { Asking } from "./askNow";

export interface ShutOutProps {
  device: string;
  person: string;
  /** "A phone of Bram's, last seen 10:32" */
  which: string;
  asking: Asking;
  onDone: () => void;
}

export function ShutOut({ device, person, which, asking, onDone }: ShutOutProps): JSX.Element {
  return (
    <AskedBack
      button={{ label: "Shut this phone out", size: 48 }}
      question="Shut this phone out?"
      does="Shut it out"
      asking={asking}
      onSure={async () => {
        const done = (await asking.ask(`/devices/${device}/shut-out`, { person })) !== null;
        if (done) onDone();
        return done;
      }}
    >
      <p>
        <strong>{which}.</strong>
      </p>
      <p>
        It is out at its next request, and can't be let in again: it needs a new code, as a new phone. What it
        has not handed over stays on it, and what it knew of the build goes from it.
      </p>
    </AskedBack>
  );
}
