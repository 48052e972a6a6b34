/** The verdict, the rule it used, a second opinion, and what would make it work (R20). Published figures only. */

import type { JSX } from "preact";
import { NoticeLine, RefusalPanel } from "../parts";
import { Payload } from "../task/About";
import type { LiftView } from "./Drawing";

type One = LiftView["verdicts"][number];

function placeWords(view: LiftView, id: string): string {
  return view.supports.find((one) => one.id === id)?.say ?? id;
}

function reasons(view: LiftView, verdict: One): string[] {
  return verdict.passed.map((passed) =>
    passed.rule === "team"
      ? `All who lift: ${passed.share_kg} kg together, ${passed.limit_kg} kg is the team figure.`
      : passed.rule === "rating"
        ? `${placeWords(view, passed.place)}: ${passed.share_kg} kg, marked for ${passed.limit_kg} kg.`
        : `${placeWords(view, passed.place)}: ${passed.share_kg} kg, ${passed.limit_kg} kg is the figure for one person there.`,
  );
}

/** The changes that help come before any way through. */
function ways(view: LiftView): string[] {
  const lifters = view.supports.filter((one) => one.kind === "lifter").length;
  const machine = view.supports.some((one) => one.kind !== "lifter");
  return [
    machine
      ? "Move the machine's support nearer the centre of gravity, so that it bears more."
      : "Let a crane, jack or dolly bear part of it, near the centre of gravity.",
    ...(lifters < 3 ? ["One more lifter: three together may lift half of the sum of what each may."] : []),
    "Take parts off the load first.",
  ];
}

/** In words for everybody, by the two published figures. */
export function VerdictPart({ view }: { view: LiftView }): JSX.Element | null {
  const best = view.verdicts.find((one) => one.figure_kg === "25");
  const other = view.verdicts.find((one) => one.figure_kg === "16");
  if (!best) return null;
  const borne = best.team_limit_kg !== null && best.team_limit_kg !== undefined;
  return (
    <section class="stack" aria-label="Verdict">
      {best.verdict === "within guidance" ? (
        <p class="t-strong">
          Within guidance{borne ? " for people of the 25 kg figure" : ": machines bear it, people guide"}
        </p>
      ) : (
        <RefusalPanel
          sentence={
            best.verdict === "refused" ? "Refused." : "Above guidance: use a machine or change the plan."
          }
          remedy={reasons(view, best).join(" ")}
        >
          <p>What would make it work:</p>
          <ul>
            {ways(view).map((way) => (
              <li key={way}>{way}</li>
            ))}
          </ul>
        </RefusalPanel>
      )}
      {borne && (
        <p>
          {best.team_share_kg} kg at worst in “{best.phase}”; the team figure is {best.team_limit_kg} kg.
          {best.second_opinion_kg && ` Second opinion, EN 1005-2: ${best.second_opinion_kg} kg.`}
        </p>
      )}
      {other && borne && other.verdict !== best.verdict && (
        <p>
          For people of the 16 kg figure: {other.verdict}. {reasons(view, other)[0]}
        </p>
      )}
      {view.above_reason && (
        <NoticeLine>
          Called above guidance, with this reason: <Payload id={view.above_reason} />
        </NoticeLine>
      )}
      {borne && (
        <p class="t-dim">
          Rules used: HSE L23 for two and three people; the lifting equation (NIOSH), for one person, where
          hand heights are in the plan. They guide. They do not know the floor, the grip or how anybody feels
          today.
        </p>
      )}
    </section>
  );
}
