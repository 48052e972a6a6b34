/** Countersign: what am I signing for? One row per bolt; the PIN comes when every bolt has its word. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { fullNameOf, me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { AsOf } from "../AsOf";
import { BoltPattern } from "../drawings";
import { Fetching } from "../Fetching";
import { go } from "../go";
import {
  type CheckAnswer,
  Choice,
  Dialog,
  EmptyState,
  FastenerRow,
  MainButton,
  MoreMenu,
  NoticeLine,
  ReasonPicker,
  RefusalPanel,
  Tick,
} from "../parts";
import { RefusedHere } from "../RefusedHere";
import { Screen } from "../Screen";
import { useScreenOn } from "../screenOn";
import { behind, howLines, wrenchWarnings } from "../torque/behind";
import { LastLapse } from "../torque/LastLapse";
import { seeGroup, type TorqueView, targetWords, wholeTorque } from "../torque/seen";
import { Walk } from "../torque/Walk";
import { some } from "../words/counts";
import { REASONS } from "../words/reasons";
import { moment } from "../words/times";

type Method = components["schemas"]["Looked"]["how"];

export const METHOD_WORDS: Record<Method, string> = {
  watched: "Watched",
  torque_wrench_again: "Torque wrench again",
  first_movement: "First movement",
  paint_mark_seen: "Paint mark seen",
};
const REFUSED: Record<string, string> = {
  fresh_eyes: "You helped with this one. It needs fresh eyes.",
  may_not_countersign: "You may not countersign yet. Ask the lead.",
  minor_cannot: "Under-18s don't countersign.",
};

export default function Check({ id }: { id: string }): JSX.Element {
  const answer = useView<TorqueView>(`/groups/${id}/torque`);
  const view = answer.data;
  useScreenOn(Boolean(view));
  const [answers, setAnswers] = useState<Record<number, CheckAnswer>>({});
  const [method, setMethod] = useState<Method | undefined>(undefined);
  const [digest, setDigest] = useState<string | null>(null);
  const [changed, setChanged] = useState(false);
  const [signer, setSigner] = useState<string | null>(null);
  const [back, setBack] = useState(false);

  useEffect(() => {
    if (!view) return;
    if (digest !== null && digest !== view.readings_digest && Object.keys(answers).length > 0) {
      setAnswers({});
      setChanged(true); // nobody who has said nothing yet has lost a word
    }
    setDigest(view.readings_digest);
  }, [view?.readings_digest]);

  if (!view) {
    return (
      <Screen opened title="Check" place="queue">
        {answer.problem ? (
          <RefusalPanel sentence={answer.problem.detail} remedy={answer.problem.way_on} />
        ) : (
          <Fetching sentence="Fetching the readings" />
        )}
      </Screen>
    );
  }

  const who = signer ?? me.value?.person ?? "";
  const mine = who === me.value?.person;
  const why = mine ? view.why_i_may_not_check : (view.touched ?? []).includes(who) ? "fresh_eyes" : null;
  const seen = seeGroup(view);
  const whole = wholeTorque(view)?.torque;
  const methods = (view.plan.check_methods ?? []) as Method[];
  const how = method ?? (methods.length === 1 ? methods[0] : undefined);
  const missing = view.bolts.filter((bolt) => !answers[bolt.n]).length;
  const moved = view.bolts.filter((bolt) => answers[bolt.n] === "moved").map((bolt) => bolt.n);
  const checks = [...rows("check").values()].filter(
    (one) => one.group === id && one.by === who && one.state === "pin_due",
  );
  const due = checks.at(-1);
  const unsent = pending("torque.note_check", { group: id }).length > 0;
  const lapsed = unsent ? undefined : (view.lapsed_checks ?? []).find((one) => one.by === who);

  function note(): void {
    if (!how || !view) return;
    void dispatch(
      "torque.note_check",
      {
        group: id,
        readings_digest: view.readings_digest,
        bolts: view.bolts.map((bolt) => ({ n: bolt.n, found: answers[bolt.n], how })),
      },
      mine ? {} : { for_person: who },
    );
    setChanged(false);
  }

  const blocked = why
    ? (REFUSED[why] ?? "not you")
    : seen.unsent > 0
      ? "readings on this phone go first"
      : missing > 0
        ? `${some(missing, "bolt")} still to check`
        : how
          ? undefined
          : "say how you checked";
  const ready = view.state === "final" && !view.countersign;
  const main = !ready ? null : due || unsent ? null : (
    <MainButton
      label={moved.length > 0 ? "It moved: write it" : "Checked"}
      blocked={blocked}
      onPress={note}
    />
  );
  const others = view.who_may_check.filter((one) => one.person !== me.value?.person);
  return (
    <Screen
      opened
      title={view.name}
      place="queue"
      work={
        <>
          {main}
          <MoreMenu
            items={[
              {
                label: "Send it back",
                onPress: () => setBack(true),
                blocked: why ? (REFUSED[why] ?? "not you") : undefined,
              },
              { label: "See it as the one who tightened it", onPress: () => go(`/groups/${id}`) },
              { label: "All checks", onPress: () => go("/checks") },
            ]}
          />
        </>
      }
    >
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        {view.countersign && (
          <NoticeLine>
            Countersigned by {nameOf(view.countersign.by)}, {moment(view.countersign.at_ms)}.
          </NoticeLine>
        )}
        {!ready && !view.countersign && (
          <EmptyState sentence="This group is not final yet. Nothing to check." />
        )}
        <LastLapse view={view} />
        {why && (
          <RefusalPanel
            sentence={REFUSED[why] ?? "This check is not for you."}
            remedy="You see it read only."
          />
        )}
        {lapsed && (
          <RefusalPanel
            sentence={`${mine ? "Your" : `${nameOf(who)}'s`} check of ${moment(lapsed.at_ms)} is crossed out.`}
            remedy={`${lapsed.says} ${ready ? "Look again." : ""}`}
          />
        )}
        {changed && !lapsed && (
          <RefusalPanel
            sentence="A bolt was read again."
            remedy="Your words are cleared. Look at it again."
          />
        )}
        <RefusedHere about={{ group: id }} />
        <p class="t-strong">
          {targetWords(view)}
          {view.passes.some((one) => one.turn) ? "; torque" : ","} {whole?.low} to {whole?.high}
        </p>
        <p class="t-dim">
          {view.spec.thread}, {view.spec.lubrication}. Tightened by{" "}
          {(view.touched ?? []).map(fullNameOf).join(", ")}.
        </p>
        {others.length > 0 && !view.countersign && (
          <details open={!mine}>
            <summary>Somebody else checks, on this phone</summary>
            <Choice
              legend="Who checks?"
              chosen={who}
              onChoose={(person) => setSigner(person === me.value?.person ? null : person)}
              options={[
                { key: me.value?.person ?? "", word: `You, ${me.value?.name ?? ""}` },
                ...others.map((one) => ({
                  key: one.person,
                  word: fullNameOf(one.person),
                  second: one.here ? "on this phone, with their own PIN" : "not in today",
                })),
              ]}
            />
          </details>
        )}
        {ready && !why && (
          <Choice<Method>
            legend="How do you check?"
            chosen={how}
            onChoose={setMethod}
            options={methods.map((key) => ({ key, word: METHOD_WORDS[key] }))}
          />
        )}
        <BoltPattern
          group={view.name}
          seenFrom={view.plan.seen_from}
          up={view.plan.up}
          fasteners={seen.fasteners}
          pass="Final pass"
        />
        <ul class="rows">
          {seen.fasteners.map((bolt) => {
            const stands = behind(view, bolt.number);
            const row = {
              number: bolt.number,
              reading: bolt.reading ?? "no reading",
              where: bolt.where,
              how: howLines(stands),
              warns: wrenchWarnings(stands),
              answer: answers[bolt.number],
            };
            return ready && !why && !due && !unsent ? (
              <FastenerRow
                key={bolt.number}
                {...row}
                onAnswer={(found) => setAnswers({ ...answers, [bolt.number]: found })}
              />
            ) : (
              <FastenerRow key={bolt.number} {...row} />
            );
          })}
        </ul>
        {unsent && <NoticeLine>Checked. The PIN needs signal.</NoticeLine>}
        {due && !why && (
          <Walk
            walk={[
              {
                check: due.id,
                group: id,
                name: view.name,
                readings_digest: due.readings_digest,
                bolts: due.bolts,
                at_ms: due.at_ms,
              },
            ]}
            signer={mine ? undefined : who}
            onSigned={() => go("/checks")}
          />
        )}
      </div>
      {back && (
        <SendBack
          id={id}
          bolts={view.bolts.map((bolt) => bolt.n)}
          by={mine ? undefined : who}
          onClose={() => setBack(false)}
        />
      )}
    </Screen>
  );
}

function SendBack(props: {
  id: string;
  bolts: number[];
  by: string | undefined;
  onClose: () => void;
}): JSX.Element {
  const { id, bolts, by, onClose } = props;
  const [which, setWhich] = useState<number[]>([]);
  const [reason, setReason] = useState<string | undefined>("other");
  const [text, setText] = useState("");
  return (
    <Dialog open title="Send it back" onClose={onClose}>
      <ReasonPicker
        question="Why?"
        reasons={REASONS.filter((one) => ["does_not_fit", "damaged", "not_clear", "other"].includes(one.key))}
        chosen={reason}
        onChoose={setReason}
        note={text}
        onNote={setText}
        confirmLabel="Send it back"
        blocked={which.length === 0 ? "say which bolt" : undefined}
        onConfirm={() => {
          void dispatch(
            "torque.send_back",
            {
              group: id,
              bolts: which,
              reason: reason ?? "other",
              ...(text.trim() ? { note_text: text.trim() } : {}),
            },
            by ? { for_person: by } : {},
          );
          onClose();
          go("/checks");
        }}
        onLeave={onClose}
      >
        <fieldset class="choices">
          <legend class="field-label">Which bolt?</legend>
          {bolts.map((n) => (
            <Tick
              key={n}
              word={`Bolt ${n}`}
              ticked={which.includes(n)}
              onTick={(on) => setWhich(on ? [...which, n] : which.filter((one) => one !== n))}
            />
          ))}
        </fieldset>
      </ReasonPicker>
    </Dialog>
  );
}
