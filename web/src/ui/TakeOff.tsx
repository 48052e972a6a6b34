/** *Take off the crew*: what they signed stays, what they had taken is free; coming back wants a new invite (R29, R30). */

import type { JSX } from "preact";
import { shortNameOf } from "../app/session";
import { AskedBack } from "./AskedBack";
import { useNow } from "./askNow";
import { go } from "./go";

export function TakeOff({ person }: { person: string }): JSX.Element {
  const asking = useNow();
  const name = shortNameOf(person);
  return (
    <AskedBack
      button={{ label: `Take ${name} off the crew`, kind: "quiet" }}
      question={`Take ${name} off the crew?`}
      does="Take off the crew"
      asking={asking}
      onSure={async () => {
        const done = (await asking.ask(`/members/${person}/leave`)) !== null;
        if (done) go("/crew");
        return done;
      }}
    >
      <p>
        What {name} signed stays in the record. Tasks and places that {name} has are free again, and no phone
        of {name}'s gets in. Coming back wants a new invite.
      </p>
    </AskedBack>
  );
}
