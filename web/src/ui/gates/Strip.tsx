/** One loose end as a strip of tape, with what makes it good (R23). */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { me, nameOf } from "../../app/session";
import type { Waiting } from "../../local/store";
import type { components } from "../../wire/schema";
import { typed, useMend, useMendForm, WhyMend } from "../mending";
import { Payload } from "../Payload";
import { Button, LinkButton, TapeStrip, WordsDialog } from "../parts";
import { Photo } from "../photo/Photo";
import { RefusedHere } from "../RefusedHere";
import { moment } from "../words/times";
import { capital, who } from "../words/who";
import { SecondIt } from "./Second";

export type End = components["schemas"]["LooseEndView"];

const KIND: Record<string, string> = {
  run_in: "Run in, NOT tight",
  snugged: "Snug, NOT tight",
  left_in: "Left in",
  landed_elsewhere: "Landed elsewhere",
  other: "To be made good",
};

export function kindWord(kind: string): string {
  return KIND[kind] ?? kind.charAt(0).toUpperCase() + kind.slice(1);
}

function AnotherWay(props: { end: End; mends: Waiting | undefined; onClose: () => void }): JSX.Element {
  const { end, mends, onClose } = props;
  return (
    <WordsDialog
      start={typed(mends, "reason_text")}
      problem={<WhyMend mend={mends} />}
      title="Put right another way"
      said={`${end.what}. Two people agree, with a reason.`}
      label="What was done, and why is that enough?"
      confirmLabel="Put right another way"
      missing="write the reason"
      onConfirm={(reason_text) => {
        void dispatch("loose.propose_another_way", { loose_end: end.id, reason_text }, { mends });
        onClose();
      }}
      onClose={onClose}
    />
  );
}

/** "Made good by T506, Final-torque mounts. Ines has it." */
function restoring(end: End): string | undefined {
  if (!end.restores_task) return undefined;
  const title = end.restores_title ? `, ${end.restores_title}` : "";
  const holder = end.restores_holder ? ` ${capital(who(end.restores_holder, "has"))} it.` : "";
  return `Made good by ${end.restores_task}${title}.${holder}`;
}

/** One says it is put right another way; a second looks and agrees, on their phone or on this one. */
function Agree({ end }: { end: End }): JSX.Element | null {
  const way = end.another_way;
  const member = rows("member").get(me.value?.person ?? "");
  if (!way) return null;
  const mine = way.by === me.value?.person;
  return (
    <div class="card">
      <p>
        {mine ? "You say" : `${nameOf(way.by)} says`} that it is put right another way:{" "}
        <Payload id={way.reason} />
      </p>
      {mine && <p class="t-dim">Somebody else must agree.</p>}
      <SecondIt
        proposal={way.proposal}
        by={way.by}
        label={mine ? "Agree" : `Agree with ${nameOf(way.by)}`}
        countersigner={false}
        mayHere={!mine && !!member && !member.minor && member.role !== "viewer"}
      />
      {mine && (
        <Button
          label="Take it back"
          size={56}
          wide
          onPress={() => void dispatch("two.withdraw", { proposal: way.proposal })}
        />
      )}
    </div>
  );
}

export function Strip({ end }: { end: End }): JSX.Element {
  const mend = useMend();
  const mends = typed(mend, "loose_end") === end.id ? mend : undefined;
  const [other, setOther] = useMendForm(mends);
  const member = rows("member").get(me.value?.person ?? "");
  const crew = !!member && member.role !== "viewer";
  const here = pending("loose.make_good", { loose_end: end.id }).length > 0;
  const asked = pending("loose.propose_another_way", { loose_end: end.id }).length > 0;
  const buttons = crew && !here && !asked;
  return (
    <>
      <TapeStrip
        kind={kindWord(end.kind)}
        what={end.what}
        where={end.where ?? undefined}
        restoring={restoring(end)}
        openedBy={`${nameOf(end.opened_by)}, ${moment(end.opened_ms)}`}
        stub={
          here
            ? "Made good, on this phone only"
            : asked
              ? "Put right another way, on this phone only"
              : undefined
        }
        action={
          <div class="stack">
            {end.note && (
              <p class="t-dim">
                <Payload id={end.note} />
              </p>
            )}
            <Photo id={end.photo} row={end.id} about={`${kindWord(end.kind)}: ${end.what}`} />
            <div class="row-of-buttons">
              {!end.made_good && end.restores_task && (
                <LinkButton
                  label={`Open ${end.restores_task}`}
                  href={`/tasks/${end.restores_task}`}
                  size={56}
                />
              )}
              {buttons && end.made_good && (
                <Button
                  label="Made good"
                  heard={`Made good: ${end.what}`}
                  size={56}
                  onPress={() => void dispatch("loose.make_good", { loose_end: end.id })}
                />
              )}
              {buttons && !end.made_good && !end.another_way && !member?.minor && (
                <Button
                  label="Put right another way"
                  heard={`Put right another way: ${end.what}`}
                  size={56}
                  kind="quiet"
                  onPress={() => setOther(true)}
                />
              )}
            </div>
          </div>
        }
      />
      <Agree end={end} />
      <RefusedHere about={{ loose_end: end.id }} />
      {other && <AnotherWay end={end} mends={mends} onClose={() => setOther(false)} />}
    </>
  );
}
