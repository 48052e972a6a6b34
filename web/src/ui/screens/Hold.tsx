/** A hold point: somebody who may countersign looks at it and signs with their own PIN (R5). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { fullNameOf, me } from "../../app/session";
import { link } from "../../sync/link";
import { useNow } from "../askNow";
import { go } from "../go";
import { Choice, EmptyState, MainButton, NoticeLine, PinPad, RefusalPanel } from "../parts";
import { Screen } from "../Screen";

export default function Hold({ task, step }: { task: string; step: string }): JSX.Element {
  const row = rows("task").get(task);
  const person = me.value?.person ?? "";
  const asking = useNow();
  const [signer, setSigner] = useState<string | undefined>(undefined);
  const [pin, setPin] = useState("");
  if (!row) {
    return (
      <Screen title="Hold point" place="queue">
        <EmptyState sentence="There is no such task in this build." />
      </Screen>
    );
  }
  const may = [...rows("member").values()].filter((one) => one.may_countersign && !one.left && !one.minor);
  const iMay = may.some((one) => one.id === person);
  const others = may.filter((one) => one.id !== person);
  const who = signer ?? (iMay ? person : undefined);
  const say = step === "end" ? "At the end of the task" : row.plan.steps.find((one) => one.id === step)?.say;
  async function sign(): Promise<void> {
    if (!who) return;
    const done = await asking.ask(
      `/tasks/${task}/sign-hold`,
      { step },
      { pin, seen: true, ...(who === person ? {} : { for_person: who }) },
    );
    setPin("");
    if (done) go(`/tasks/${task}`);
  }
  const missing = !who ? "choose who signs" : !pin ? "type the PIN" : link.value.up ? undefined : "the PIN needs signal";
  return (
    <Screen
      title={`Hold point: ${row.plan.title}`}
      place="queue"
      work={
        <MainButton
          label="Sign the hold point"
          blocked={asking.busy ? "one moment" : missing}
          onPress={() => void sign()}
        />
      }
    >
      <div class="stack">
        <p class="t-strong">{say}</p>
        <p>Look at it yourself first, against the kit's manual. Nothing goes on before this is signed.</p>
        {may.length === 0 && <EmptyState sentence="Nobody may countersign yet. Ask the lead." />}
        {may.length > 0 && (
          <Choice
            legend="Who signs?"
            chosen={who}
            onChoose={(one) => {
              setSigner(one);
              setPin("");
            }}
            options={[
              ...(iMay ? [{ key: person, word: `You, ${me.value?.name ?? ""}` }] : []),
              ...others.map((one) => ({
                key: one.id,
                word: fullNameOf(one.id),
                second: one.in_since_ms ? "on this phone, with their own PIN" : "not in today",
              })),
            ]}
          />
        )}
        {who && (
          <PinPad
            who={`You are ${fullNameOf(who)}${who === person ? "" : `, on ${me.value?.name ?? "another"}'s phone`}`}
            label="Your PIN"
            value={pin}
            onType={setPin}
            onEnter={() => void sign()}
            wrong={asking.problem?.code === "pin_wrong" ? `${asking.problem.detail} ${asking.problem.way_on ?? ""}` : undefined}
          />
        )}
        {asking.problem && asking.problem.code !== "pin_wrong" && (
          <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
        )}
        {!link.value.up && <NoticeLine>The PIN needs signal.</NoticeLine>}
      </div>
    </Screen>
  );
}
