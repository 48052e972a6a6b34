/** One PIN for the walk round: the groups listed, who signs read aloud first. The PIN is not kept after it. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { pending } from "../../app/outbox";
import { me } from "../../app/session";
import { link } from "../../sync/link";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import { handedOver, PinProblem } from "../gates/Second";
import { MainButton, NoticeLine, PinPad } from "../parts";
import { some } from "../words/counts";

type Stop = components["schemas"]["WalkStop"];

export interface WalkProps {
  walk: readonly Stop[];
  /** Somebody else signs on this phone (handed over): their id. */
  signer?: string | undefined;
  /** The names of the groups that were signed. */
  onSigned?: ((groups: string[]) => void) | undefined;
}

export function Walk({ walk, signer, onSigned }: WalkProps): JSX.Element {
  const [pin, setPin] = useState("");
  const asking = useNow();
  const who = signer ?? me.value?.person ?? "";
  const moved = walk.filter((stop) => stop.bolts.some((bolt) => bolt.found === "moved"));
  const signable = walk.filter((stop) => !moved.includes(stop));
  if (signable.length === 0) {
    return <NoticeLine>A bolt moved: that group goes back to the one who tightened it.</NoticeLine>;
  }
  async function sign(): Promise<void> {
    const done = await asking.ask(
      "/countersigns",
      {
        checks: signable.map((stop) => stop.check),
        readings_digests: Object.fromEntries(signable.map((stop) => [stop.group, stop.readings_digest])),
        unsent_groups: signable
          .map((stop) => stop.group)
          .filter((group) => pending("torque.read", { group }).length > 0),
      },
      { pin, seen: true, ...(signer ? { for_person: signer } : {}) },
    );
    setPin("");
    if (done) onSigned?.(signable.map((stop) => stop.name));
  }
  return (
    <section class="stack card" aria-label="Countersign">
      <h2>Checked, PIN due</h2>
      <ul>
        {signable.map((stop) => (
          <li key={stop.check}>
            {stop.name}: {some(stop.bolts.length, "bolt holds", "bolts hold")}
          </li>
        ))}
      </ul>
      <PinPad
        who={handedOver(who)}
        label="Your PIN"
        value={pin}
        onType={setPin}
        onEnter={() => void sign()}
        wrong={asking.problem?.code === "pin_wrong" ? asking.problem.detail : undefined}
      />
      <PinProblem asking={asking} who={who} />
      {!link.value.up && <NoticeLine>The PIN needs signal. What you checked is kept.</NoticeLine>}
      <MainButton
        label={signable.length === 1 ? "Countersign" : `Countersign ${signable.length} groups`}
        blocked={
          asking.busy
            ? "one moment"
            : pin
              ? link.value.up
                ? undefined
                : "the PIN needs signal"
              : "type your PIN"
        }
        onPress={() => void sign()}
      />
    </section>
  );
}
