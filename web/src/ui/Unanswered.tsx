/** What was handed over again and again without a yes or no: what is so, and what can be done. Nothing is dropped. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { InVain } from "../local/store";
import { saveUnsent } from "./Handover";
import { Button, Dialog, RefusalPanel } from "./parts";
import { age } from "./words/times";

/** The service itself says what helps. */
const SAYS_IT: readonly string[] = ["behind_fault", "other_version", "too_large_on_the_way"];

/** "The service broke down over this. Handed over 7 times in 12 min; it stays here and goes on being tried." */
function sentences({ times, since_ms, problem }: InVain): { sentence: string; remedy: string } {
  const tried = `Handed over ${times} times in ${age(Date.now() - since_ms)}.`;
  if (problem && SAYS_IT.includes(problem.code))
    return { sentence: problem.detail, remedy: `${problem.way_on} ${tried}` };
  const sentence = problem?.detail || "The service is there, but gives no answer to this.";
  return {
    sentence,
    remedy: `${tried} It stays here and goes on being tried. Tell whoever runs the service.`,
  };
}

export function Unanswered(props: {
  inVain: InVain;
  /** In the crew's words, with what was typed. */
  what: string;
  onLetGo: () => void;
}): JSX.Element {
  const [asked, setAsked] = useState(false);
  return (
    <RefusalPanel {...sentences(props.inVain)} typed={props.what}>
      <div class="row-of-buttons">
        <Button label="Save it as a file" onPress={() => void saveUnsent()} />
        <Button label="Let it go" kind="quiet" onPress={() => setAsked(true)} />
      </div>
      {asked && (
        <Dialog
          open
          title="Let it go?"
          onClose={() => setAsked(false)}
          foot={<Button label="Keep it here" size={64} wide onPress={() => setAsked(false)} />}
        >
          <div class="stack">
            <p>The service has never judged it, so no record of it is left: {props.what}</p>
            <p>What you have not handed over can be saved as a file first.</p>
            <Button label="Let it go for good" wide onPress={props.onLetGo} />
          </div>
        </Dialog>
      )}
    </RefusalPanel>
  );
}
