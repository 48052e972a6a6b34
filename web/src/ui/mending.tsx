/**
 * Mending what was refused: the form opens with what was typed, under `?mend=` and the refused command's id. What is
 * sent from it takes that one's place.
 */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useSearch } from "wouter-preact";
import { navigate } from "wouter-preact/use-browser-location";
import { mine, outbox } from "../app/outbox";
import type { Waiting } from "../local/store";
import { LinkButton, NoticeLine, RefusalPanel } from "./parts";

const AT_ITS_TASK: readonly string[] = [
  "task.measure",
  "task.stuck",
  "task.give_back",
  "task.go_home",
  "task.pass_on",
  "task.take_over",
  "deviation.propose",
  "snag.report",
  "loose.report",
];
const AMONG_THE_LOOSE_ENDS: readonly string[] = [
  "loose.report",
  "loose.propose_another_way",
  "hazard.propose_lift_tag",
];

/** Where the form of a refused command is; null: it has none that holds anything typed, or somebody else made it. */
export function mendLink(of: Waiting): string | null {
  const { id, envelope } = of;
  const { kind, body } = envelope;
  if (!mine(of)) return null;
  const task = kind === "note.add" ? body.about_kind === "task" && body.about : body.task;
  if (typeof task === "string" && (kind === "note.add" || AT_ITS_TASK.includes(kind)))
    return `/tasks/${task}?mend=${id}`;
  return AMONG_THE_LOOSE_ENDS.includes(kind) ? `/loose-ends?mend=${id}` : null;
}

/** Opens the form with what was typed, where there is such a form. */
export function MendIt({ of }: { of: Waiting }): JSX.Element | null {
  const link = mendLink(of);
  return link ? <LinkButton label="Mend it" href={link} size={56} /> : null;
}

/** The refused command, of whoever is at this phone, that this screen was opened to mend, as long as it is here. */
export function useMend(): Waiting | undefined {
  const id = new URLSearchParams(useSearch()).get("mend");
  return outbox.value.find((one) => one.id === id && one.state === "refused" && mine(one));
}

/** The form is closed: the next one opened here begins anew. */
export function endMend(): void {
  const search = new URLSearchParams(location.search);
  if (!search.has("mend")) return;
  search.delete("mend");
  const rest = search.toString();
  navigate(location.pathname + (rest ? `?${rest}` : ""), { replace: true });
}

/** Is the form open, which *Mend it* opens too, also where the refusal stands on the form's own screen. */
export function useMendForm(mends: Waiting | undefined): [boolean, (open: boolean) => void] {
  const [open, setOpen] = useState(mends !== undefined);
  useEffect(() => {
    if (mends) setOpen(true);
  }, [mends?.id]);
  const turn = (now: boolean): void => {
    setOpen(now);
    if (!now) endMend();
  };
  return [open, turn];
}

/** A field of what is mended, as it was typed. */
export function typed(mend: Waiting | undefined, field: string): string {
  const value = mend?.envelope.body[field];
  return typeof value === "string" ? value : "";
}

/** Why it was refused, on top of its form. */
export function WhyMend({ mend }: { mend: Waiting | undefined }): JSX.Element | null {
  if (!mend) return null;
  return (
    <>
      <RefusalPanel sentence={mend.problem?.detail ?? "It was refused."} remedy={mend.problem?.way_on} />
      {typed(mend, "photo") && <NoticeLine>Its photo goes along unless you add another.</NoticeLine>}
    </>
  );
}
