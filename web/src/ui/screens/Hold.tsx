/** A hold point: somebody who did not work on it looks, and signs with their own PIN, on their phone or on this one. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { fullNameOf, me } from "../../app/session";
import { link } from "../../sync/link";
import { useNow } from "../askNow";
import { go } from "../go";
import { Choice, EmptyState, MainButton, NoticeLine, PinPad, RefusalPanel } from "../parts";
import { Screen } from "../Screen";

export default function Hold({ task: id, step }: { task: string; step: string }): JSX.Element {
  const task = rows("task").get(id);
  const person = me.value?.person ?? "";
  const worked = new Set([...(task?.worked ?? []), task?.holder]);
  const able = [...rows("member").values()].filter(
    (one) => one.may_countersign && !one.minor && !one.left && !worked.has(one.id),
  );
  const [who, setWho] = useState<string | undefined>(
    able.some((one) => one.id === person) ? person : undefined,
  );
  const [pin, setPin] = useState("");
  const asking = useNow();
  if (!task) {
    return (
      <Screen title="Hold point" place="queue">
        <EmptyState sentence="There is no such task in this build." />
      </Screen>
    );
  }
  const words =
    step === "end" ? `The whole of ${task.plan.title}` : task.plan.steps.find((one) => one.id === step)?.say;
  const signed = task.holds?.[step];
  async function sign(): Promise<void> {
    if (!who) return;
    const extra = { pin, seen: true, ...(who === person ? {} : { for_person: who }) };
    const done = await asking.ask(`/tasks/${id}/sign-hold`, { step }, extra);
    setPin("");
    if (done) go(`/tasks/${id}`);
  }
  return (
    <Screen title="Hold point" place="queue">
      <div class="stack">
        <p class="t-strong">{words}</p>
        <p class="t-dim">
          {id} · {task.plan.title}
        </p>
        {signed ? (
          <NoticeLine>Signed by {fullNameOf(signed.by)}.</NoticeLine>
        ) : able.length === 0 ? (
          <EmptyState sentence="Nobody may sign it yet: whoever worked on it can't. Ask the lead who else may countersign." />
        ) : (
          <>
            <Choice
              legend="Who looked and signs?"
              chosen={who}
              onChoose={setWho}
              options={able.map((one) => ({
                key: one.id,
                word: fullNameOf(one.id),
                second:
                  one.id === person
                    ? "you"
                    : one.in_since_ms
                      ? "on this phone, with their own PIN"
                      : "not in today",
              }))}
            />
            {who && (
              <PinPad
                who={`You are ${fullNameOf(who)}${who === person ? "" : `, on ${me.value?.name ?? "another"}'s phone`}`}
                label="Your PIN"
                value={pin}
                onType={setPin}
                onEnter={() => void sign()}
                wrong={asking.problem?.code === "pin_wrong" ? asking.problem.detail : undefined}
              />
            )}
            {asking.problem && asking.problem.code !== "pin_wrong" && (
              <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
            )}
            <MainButton
              label="Sign the hold point"
              blocked={
                !who
                  ? "choose who"
                  : !pin
                    ? "type the PIN"
                    : !link.value.up
                      ? "the PIN needs signal"
                      : asking.busy
                        ? "one moment"
                        : undefined
              }
              onPress={() => void sign()}
            />
          </>
        )}
      </div>
    </Screen>
  );
}
