/** One line per call under the strip: a lift that wants my answer, a check that waits for me, a second that is asked for. */

import type { JSX } from "preact";
import { rows } from "../app/mirror";
import { me, nameOf } from "../app/session";
import { CallLine } from "./parts";
import { moment } from "./words/times";

export function Calls(): JSX.Element | null {
  const person = me.value?.person;
  if (!person) return null;
  const lines: { key: string; sentence: string; href: string }[] = [];
  for (const lift of rows("lift").values()) {
    const href = `/lifts/${lift.id}`;
    const mine = Object.values(lift.places ?? {}).includes(person);
    if (lift.state === "lifting" || lift.state === "held") {
      lines.push({
        key: lift.id,
        sentence: `${lift.plan.title}: ${lift.state === "held" ? "held" : "lifting now"}`,
        href,
      });
    } else if (lift.state === "called" || lift.state === "crewed" || lift.state === "in_place") {
      const at = lift.when_ms ? moment(lift.when_ms) : "today";
      if (!lift.answers?.[person]) {
        lines.push({ key: lift.id, sentence: `Lift at ${at}: your answer is wanted`, href });
      } else if (mine && !lift.ready?.[person]) {
        lines.push({ key: lift.id, sentence: `Lift at ${at}: read your briefing`, href });
      }
    }
  }
  for (const proposal of rows("proposal").values()) {
    if (proposal.state === "waiting" && proposal.by !== person && proposal.what === "open_gate") {
      lines.push({
        key: proposal.id,
        sentence: `Open the gate with ${nameOf(proposal.by)}?`,
        href: `/gates/${proposal.about}`,
      });
    }
  }
  if (lines.length === 0) return null;
  return (
    <>
      {lines.map((line) => (
        <CallLine key={line.key} sentence={line.sentence} href={line.href} />
      ))}
    </>
  );
}
