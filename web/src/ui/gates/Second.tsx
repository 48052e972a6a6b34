/** The second of two people: on their own phone by one press, or on this one with their own PIN (R23, R25). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { fullNameOf, me, shortNameOf } from "../../app/session";
import { link } from "../../sync/link";
import { type Asking, useNow } from "../askNow";
import { Button, Choice, Dialog, LinkButton, MainButton, PinPad, RefusalPanel } from "../parts";

/** "You are Desmond Achterberg, on Aled's phone": read aloud before the PIN. */
export function handedOver(who: string): string {
  const here = me.value;
  if (who === here?.person) return `You are ${fullNameOf(who)}`;
  return `You are ${fullNameOf(who)}, on ${shortNameOf(here?.person)}'s phone`;
}

/** What stands against a PIN act now, for the button's label. */
export function pinBlocked(who: string | undefined, pin: string, asking: Asking): string | undefined {
  if (!who) return "choose who";
  if (!link.value.up) return "the PIN needs signal";
  if (!pin) return "type the PIN";
  return asking.busy ? "one moment" : undefined;
}

/** A wrong PIN belongs to the pad, everything else beside the button. */
export function PinProblem({ asking, who }: { asking: Asking; who: string }): JSX.Element | null {
  const problem = asking.problem;
  if (!problem || problem.code === "pin_wrong") return null;
  return (
    <RefusalPanel sentence={problem.detail} remedy={problem.way_on}>
      {problem.code === "pin_outgrown" && who === me.value?.person && (
        <LinkButton label="Choose a longer PIN" href="/crew/me" />
      )}
    </RefusalPanel>
  );
}

interface WhoAndPinProps {
  legend: string;
  able: readonly { id: string; second?: string | undefined }[];
  who: string | undefined;
  onWho: (who: string | undefined) => void;
  pin: string;
  onPin: (pin: string) => void;
  onEnter: () => void;
  asking: Asking;
}

/** First who, then the PIN: the list gives way to the pad, so that both fit under a thumb. */
export function WhoAndPin(props: WhoAndPinProps): JSX.Element {
  const { who, asking } = props;
  const choose = (one: string | undefined) => {
    props.onWho(one);
    props.onPin("");
    asking.clear();
  };
  if (!who) {
    return (
      <Choice
        legend={props.legend}
        chosen={who}
        onChoose={choose}
        options={props.able.map((one) => ({ key: one.id, word: fullNameOf(one.id), second: one.second }))}
      />
    );
  }
  return (
    <>
      <PinPad
        who={handedOver(who)}
        label="Your PIN"
        value={props.pin}
        onType={props.onPin}
        onEnter={props.onEnter}
        wrong={asking.problem?.code === "pin_wrong" ? asking.problem.detail : undefined}
      />
      <PinProblem asking={asking} who={who} />
      {props.able.length > 1 && (
        <Button label="Somebody else signs" size={56} kind="quiet" onPress={() => choose(undefined)} />
      )}
    </>
  );
}

interface Props {
  proposal: string;
  /** The first of the two. */
  by: string;
  /** "Open it with Bram" */
  label: string;
  /** A gate wants somebody who may countersign; a loose end any grown member. */
  countersigner: boolean;
}

/** Hand the phone over: the second person is chosen, read aloud, and types their PIN. */
function HandOver({
  proposal,
  by,
  label,
  countersigner,
  onClose,
}: Props & { onClose: () => void }): JSX.Element {
  const [who, setWho] = useState<string | undefined>(undefined);
  const [pin, setPin] = useState("");
  const asking = useNow();
  const able = [...rows("member").values()]
    .filter((one) => one.id !== by && one.id !== me.value?.person && !one.left && !one.minor)
    .filter((one) => one.role !== "viewer" && (!countersigner || one.may_countersign))
    .sort((a, b) => fullNameOf(a.id).localeCompare(fullNameOf(b.id)));
  async function second(): Promise<void> {
    if (!who || pinBlocked(who, pin, asking)) return;
    const done = await asking.ask(`/proposals/${proposal}/second`, {}, { seen: true, pin, for_person: who });
    setPin("");
    if (done) onClose();
  }
  return (
    <Dialog
      open
      title="Hand the phone over"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <WhoAndPin
          legend="Who is the second person?"
          able={able}
          who={who}
          onWho={setWho}
          pin={pin}
          onPin={setPin}
          onEnter={() => void second()}
          asking={asking}
        />
        <MainButton label={label} blocked={pinBlocked(who, pin, asking)} onPress={() => void second()} />
      </div>
    </Dialog>
  );
}

/** The press of the second person, or the hand-over where the first one's phone is at hand. */
export function SecondIt(props: Props & { mayHere: boolean; blocked?: string | undefined }): JSX.Element {
  const { proposal, label, mayHere } = props;
  const [over, setOver] = useState(false);
  const viewer = rows("member").get(me.value?.person ?? "")?.role === "viewer";
  const asking = useNow();
  return (
    <div class="stack">
      {mayHere && (
        <MainButton
          label={label}
          blocked={
            props.blocked ??
            (link.value.up ? (asking.busy ? "one moment" : undefined) : "two people, on the line")
          }
          onPress={() => void asking.ask(`/proposals/${proposal}/second`, {}, { seen: true })}
        />
      )}
      {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
      {!viewer && (
        <Button
          label="On this phone, with their PIN"
          size={56}
          wide
          blocked={link.value.up ? undefined : "the PIN needs signal"}
          onPress={() => setOver(true)}
        />
      )}
      {over && <HandOver {...props} onClose={() => setOver(false)} />}
    </div>
  );
}
