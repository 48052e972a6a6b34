/** Loose ends and gates: what must be made good before it cranks? */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch, pending } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import { useView } from "../../app/views";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import {
  Button,
  Dialog,
  EmptyState,
  LinkButton,
  LoadingTags,
  MainButton,
  NoticeLine,
  RefusalPanel,
  SwitchBar,
  TapeStrip,
  TextField,
} from "../parts";
import { AsOf, Screen } from "../Screen";
import { Payload } from "../task/About";
import { ReportLoose } from "../task/Reports";
import { moment } from "../words/times";

type LooseEndsView = components["schemas"]["LooseEndsView"];
type End = components["schemas"]["LooseEndView"];

const KIND: Record<string, string> = {
  run_in: "Run in, NOT tight",
  snugged: "Snug, NOT tight",
  left_in: "Left in",
  landed_elsewhere: "Landed elsewhere",
  undone: "Undone",
};

function kindWord(kind: string): string {
  return KIND[kind] ?? kind.charAt(0).toUpperCase() + kind.slice(1);
}

function AnotherWay({ end, onClose }: { end: End; onClose: () => void }): JSX.Element {
  const [reason, setReason] = useState("");
  return (
    <Dialog
      open
      title="Put right another way"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <p>{end.what}. Two people agree, with a reason.</p>
        <TextField
          label="What was done, and why is that enough?"
          value={reason}
          onType={setReason}
          lines
          maxLength={2000}
        />
        <MainButton
          label="Put right another way"
          blocked={reason.trim() ? undefined : "write the reason"}
          onPress={() => {
            void dispatch("loose.propose_another_way", { loose_end: end.id, reason_text: reason.trim() });
            onClose();
          }}
        />
      </div>
    </Dialog>
  );
}

function Strip({ end }: { end: End }): JSX.Element {
  const [other, setOther] = useState(false);
  const asking = useNow();
  const here = pending("loose.make_good", { loose_end: end.id }).length > 0;
  const way = end.another_way;
  const restoring = end.restores_task
    ? `Made good by ${end.restores_task}${end.restores_title ? `, ${end.restores_title}` : ""}.${end.restores_holder ? ` ${nameOf(end.restores_holder)} has it.` : ""}`
    : undefined;
  return (
    <>
      <TapeStrip
        kind={kindWord(end.kind)}
        what={end.what}
        where={end.where ?? undefined}
        restoring={restoring}
        openedBy={`${nameOf(end.opened_by)}, ${moment(end.opened_ms)}`}
        stub={here ? "Made good, on this phone only" : undefined}
        action={
          <div class="row-of-buttons">
            {end.made_good && !here && (
              <Button
                label="Made good"
                heard={`Made good: ${end.what}`}
                size={48}
                onPress={() => void dispatch("loose.make_good", { loose_end: end.id })}
              />
            )}
            {!end.made_good && end.restores_task && (
              <LinkButton
                label={`Open ${end.restores_task}`}
                href={`/tasks/${end.restores_task}`}
                size={48}
              />
            )}
            {!way && (
              <Button
                label="Put right another way"
                heard={`Put right another way: ${end.what}`}
                size={48}
                onPress={() => setOther(true)}
              />
            )}
            {way && way.by !== me.value?.person && (
              <Button
                label={`Agree with ${nameOf(way.by)}`}
                size={48}
                onPress={() => void asking.ask(`/proposals/${way.proposal}/second`, {}, { seen: true })}
              />
            )}
          </div>
        }
      />
      {end.note && (
        <p class="t-dim">
          <Payload id={end.note} />
        </p>
      )}
      {way && (
        <NoticeLine>
          {nameOf(way.by)} says it is put right another way: <Payload id={way.reason} /> A second person must
          agree.
        </NoticeLine>
      )}
      {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
      {other && <AnotherWay end={end} onClose={() => setOther(false)} />}
    </>
  );
}

export default function LooseEnds(): JSX.Element {
  const [by, setBy] = useState<"gate" | "zone">("gate");
  const [report, setReport] = useState(false);
  const answer = useView<LooseEndsView>("/loose-ends");
  const view = answer.data;
  const waiting = pending("loose.report");
  return (
    <Screen title="Loose ends" place="loose-ends">
      <AsOf at_ms={answer.at_ms} />
      <div class="stack">
        <MainButton label="Dropped or left in" onPress={() => setReport(true)} />
        {waiting.map((one) => (
          <TapeStrip
            key={one.id}
            kind={kindWord(String(one.envelope.body.kind))}
            what={String(one.envelope.body.what_text ?? "Reported by you")}
            stub="On this phone only"
          />
        ))}
        <SwitchBar
          label="Sort loose ends"
          chosen={by}
          onChoose={setBy}
          options={[
            { key: "gate", word: "By gate" },
            { key: "zone", word: "By zone" },
          ]}
        />
        {!view && <LoadingTags sentence="Fetching the loose ends" />}
        {view?.open === 0 && <EmptyState sentence="Nothing is loose." />}
        {by === "gate" &&
          view?.by_gate.map((group) => (
            <section key={group.gate?.id ?? "none"} class="stack" aria-label={group.gate?.name ?? "No gate"}>
              <h2>
                {group.gate ? (
                  <a href={`/gates/${group.gate.id}`}>{group.gate.name}</a>
                ) : (
                  "Belongs to no gate"
                )}
              </h2>
              {group.gate && (
                <p>
                  {group.gate.state === "open"
                    ? `Open: ${(group.gate.opened_by ?? []).map((one) => nameOf(one)).join(" and ")}`
                    : group.gate.wants.length === 0
                      ? "Stays shut until two people open it. Nothing is missing."
                      : `Stays shut: ${group.gate.wants.length} to go.`}
                </p>
              )}
              {group.ends.map((end) => (
                <Strip key={end.id} end={end} />
              ))}
            </section>
          ))}
        {by === "zone" &&
          view?.by_zone.map((zone) => (
            <section key={zone.zone ?? "none"} class="stack" aria-label={zone.name}>
              <h2>{zone.name}</h2>
              {zone.ends.length === 0 && <EmptyState sentence={`Nothing is loose in ${zone.name}.`} />}
              {zone.ends.map((end) => (
                <Strip key={end.id} end={end} />
              ))}
            </section>
          ))}
      </div>
      {report && <ReportLoose onClose={() => setReport(false)} />}
    </Screen>
  );
}
