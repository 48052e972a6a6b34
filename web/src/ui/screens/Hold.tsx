/** A hold point: somebody who did not work on it looks, and signs with their own PIN, on their phone or on this one. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { loaded, rows } from "../../app/mirror";
import { isIn } from "../../app/presence";
import { fullNameOf, me } from "../../app/session";
import type { RowKinds } from "../../wire/rows";
import { useNow } from "../askNow";
import { Fetching } from "../Fetching";
import { pinBlocked, WhoAndPin } from "../gates/Second";
import { go } from "../go";
import { EmptyState, LinkButton, MainButton, NoticeLine } from "../parts";
import { Screen } from "../Screen";

export default function Hold({ task: id, step }: { task: string; step: string }): JSX.Element {
  const task = rows("task").get(id);
  const person = me.value?.person ?? "";
  const worked = new Set([
    ...(task?.worked ?? []),
    ...(task?.mates ?? []).map((mate) => mate.person),
    task?.holder,
  ]);
  const able = [...rows("member").values()].filter(
    (one) => one.may_countersign && !one.minor && !one.left && !worked.has(one.id),
  );
  // Until somebody else is chosen (null: nobody is yet), oneself: the rows may come after the screen.
  const [chosen, setChosen] = useState<string | null | undefined>(undefined);
  const myself = able.some((one) => one.id === person) ? person : undefined;
  const who = chosen === undefined ? myself : (chosen ?? undefined);
  const [pin, setPin] = useState("");
  const asking = useNow();
  if (!task) {
    return (
      <Screen opened title="Hold point" place="queue">
        {loaded.value ? (
          <EmptyState sentence="There is no such task in this build." />
        ) : (
          <Fetching sentence="Fetching the task" />
        )}
      </Screen>
    );
  }
  const words =
    step === "end" ? `The whole of ${task.plan.title}` : task.plan.steps.find((one) => one.id === step)?.say;
  const where = (one: RowKinds["member"]): string => {
    if (one.id === person) return "you";
    return isIn(one) ? "on this phone, with their own PIN" : "not in today";
  };
  const signed = task.holds?.[step];
  async function sign(): Promise<void> {
    if (!who || pinBlocked(who, pin, asking)) return;
    const extra = { pin, seen: true, ...(who === person ? {} : { for_person: who }) };
    const done = await asking.ask(`/tasks/${id}/sign-hold`, { step }, extra);
    setPin("");
    if (done) go(`/tasks/${id}`);
  }
  const may = !signed && able.length > 0;
  return (
    <Screen
      opened
      title="Hold point"
      place="queue"
      {...(may
        ? {
            work: (
              <MainButton
                label="Sign the hold point"
                blocked={pinBlocked(who, pin, asking)}
                onPress={() => void sign()}
              />
            ),
          }
        : {})}
    >
      <div class="stack">
        <p class="t-strong">{words}</p>
        <p class="t-dim">
          {id} · {task.plan.title}
        </p>
        {signed && <NoticeLine>Signed by {fullNameOf(signed.by)}.</NoticeLine>}
        {!signed && able.length === 0 && (
          <EmptyState sentence="Nobody may sign it yet: whoever worked on it can't. Ask the lead who else may countersign." />
        )}
        {may && (
          <WhoAndPin
            legend="Who looked and signs?"
            able={able.map((one) => ({ id: one.id, second: where(one) }))}
            who={who}
            onWho={(one) => setChosen(one ?? null)}
            pin={pin}
            onPin={setPin}
            onEnter={() => void sign()}
            asking={asking}
          />
        )}
        <LinkButton label="Leave it as it is" href={`/tasks/${id}`} wide />
      </div>
    </Screen>
  );
}
