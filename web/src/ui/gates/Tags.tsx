/** Isolator tags: what is tagged stays off until its owner lifts the tag; an absent owner's two others lift (R27). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, madeHere, pending } from "../../app/outbox";
import { useWords } from "../../app/payloads";
import { inSince } from "../../app/presence";
import { me, nameOf } from "../../app/session";
import type { Waiting } from "../../local/store";
import type { RowKinds } from "../../wire/rows";
import { typed, useMend, useMendForm, WhyMend } from "../mending";
import { Payload } from "../Payload";
import { Button, Dialog, NoticeLine, Stub, TextField, WordsDialog } from "../parts";
import { RefusedHere } from "../RefusedHere";
import { moment } from "../words/times";
import { SecondIt } from "./Second";

type Tag = RowKinds["tag"];

const BATTERY = "Battery isolator";

/** What a tag that waits here keeps off; an app from before wrote the words into `what`. */
function waitingWord({ what, what_text }: Record<string, unknown>): string {
  if (what_text) return String(what_text);
  return !what || what === "battery" ? BATTERY : String(what);
}

/** What a tag keeps off; in tags of before these words stand in `what`. */
function useTagWord({ id, what, note }: Tag): string {
  const words = useWords(note, madeHere(id, "what_text"));
  if (what === "battery") return BATTERY;
  return note ? (words?.text ?? words?.instead ?? "…") : what;
}

function HangTag({ onClose }: { onClose: () => void }): JSX.Element {
  const [other, setOther] = useState("");
  const hang = (what: { what: "battery" } | { what: "other"; what_text: string }) => {
    void dispatch("hazard.hang_tag", what);
    onClose();
  };
  return (
    <Dialog
      open
      title="Hang a tag"
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <p>What is tagged stays off until you lift the tag. Hang a paper one on it too.</p>
        <Button label={BATTERY} size={72} wide onPress={() => hang({ what: "battery" })} />
        <TextField label="Something else" value={other} onType={setOther} maxLength={80} />
        <Button
          label="Hang it there"
          size={64}
          wide
          blocked={other.trim() ? undefined : "type what it is"}
          onPress={() => hang({ what: "other", what_text: other.trim() })}
        />
      </div>
    </Dialog>
  );
}

function LiftAnothers(props: { tag: Tag; mends: Waiting | undefined; onClose: () => void }): JSX.Element {
  const { tag, mends, onClose } = props;
  const owner = nameOf(tag.owner);
  const since = inSince(rows("member").get(tag.owner));
  const first = since
    ? `${owner} is signed in since ${moment(since)}: ask them to lift it. Two others do so only when they are away.`
    : `Ask ${owner} first.`;
  return (
    <WordsDialog
      start={typed(mends, "reason_text")}
      problem={<WhyMend mend={mends} />}
      title={`Lift ${owner}'s tag`}
      said={`${first} Look along the whole of what it keeps off: is anybody at it? Then a second person looks too, and agrees.`}
      label="Why, and how did you look?"
      confirmLabel="I have looked: ask a second"
      missing="write the reason"
      onConfirm={(reason_text) => {
        void dispatch("hazard.propose_lift_tag", { tag: tag.id, reason_text }, { mends });
        onClose();
      }}
      onClose={onClose}
    />
  );
}

function OneTag({ tag, may }: { tag: Tag; may: boolean }): JSX.Element {
  const mend = useMend();
  const mends = typed(mend, "tag") === tag.id ? mend : undefined;
  const [asks, setAsks] = useMendForm(mends);
  const mine = tag.owner === me.value?.person;
  const word = useTagWord(tag);
  const lifting = pending("hazard.lift_tag", { tag: tag.id }).length > 0;
  const asked = pending("hazard.propose_lift_tag", { tag: tag.id }).length > 0;
  const proposal = [...rows("proposal").values()].find(
    (one) => one.what === "lift_tag" && one.about === tag.id && one.state === "waiting",
  );
  const iAsked = proposal?.by === me.value?.person;
  return (
    <li class="place-line stack">
      <span class="place-word">{word}: stays off</span>
      <span class="place-second">
        {mine ? "Your tag" : `${nameOf(tag.owner)}'s tag`}, {moment(tag.since_ms)}
      </span>
      {lifting && <Stub word="Lifted, on this phone only" />}
      {asked && <Stub word="Asked, on this phone only" />}
      {mine && !lifting && (
        <Button
          label="Lift my tag"
          heard={`Lift my tag: ${word}`}
          size={56}
          onPress={() => void dispatch("hazard.lift_tag", { tag: tag.id })}
        />
      )}
      {!mine && may && !proposal && !asked && (
        <Button
          label="Lift it, two of us"
          heard={`Lift it, two of us: ${word}`}
          size={56}
          kind="quiet"
          onPress={() => setAsks(true)}
        />
      )}
      {proposal && (
        <div class="card">
          <p>
            {iAsked ? "You looked" : `${nameOf(proposal.by)} looked`} and would lift it:{" "}
            <Payload id={proposal.reason} />
          </p>
          <SecondIt
            proposal={proposal.id}
            by={proposal.by}
            label={iAsked ? "Agree" : `I have looked: agree with ${nameOf(proposal.by)}`}
            countersigner={false}
            mayHere={!iAsked && may}
          />
        </div>
      )}
      <RefusedHere about={{ tag: tag.id }} />
      {asks && <LiftAnothers tag={tag} mends={mends} onClose={() => setAsks(false)} />}
    </li>
  );
}

export function Tags(): JSX.Element | null {
  const [hangs, setHangs] = useState(false);
  const member = rows("member").get(me.value?.person ?? "");
  const crew = !!member && member.role !== "viewer";
  const tags = [...rows("tag").values()].filter((one) => !one.lifted_ms);
  const waiting = pending("hazard.hang_tag");
  if (!crew && tags.length === 0) return null;
  return (
    <section class="stack" aria-label="Isolator tags">
      <h2>Isolator tags</h2>
      {tags.length === 0 && waiting.length === 0 && <NoticeLine>Nothing is tagged.</NoticeLine>}
      <ul class="place-list">
        {tags.map((tag) => (
          <OneTag key={tag.id} tag={tag} may={crew && !member?.minor} />
        ))}
      </ul>
      {waiting.map((one) => (
        <Stub key={one.id} word={`${waitingWord(one.envelope.body)}: tagged, on this phone only`} />
      ))}
      {crew && <Button label="Hang a tag" size={56} wide onPress={() => setHangs(true)} />}
      {hangs && <HangTag onClose={() => setHangs(false)} />}
    </section>
  );
}
