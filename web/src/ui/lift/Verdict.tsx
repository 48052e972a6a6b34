/** The verdict, the rule it used, a second opinion, who lets go (R20). Published figures only. */

import type { JSX } from "preact";
import { Payload } from "../Payload";
import { NoticeLine, RefusalPanel } from "../parts";
import type { LiftView } from "./Drawing";

type One = LiftView["verdicts"][number];

/** What a place's own figure comes from; entries of before do not tell ("own place"). */
const FROM: Record<string, string> = {
  largest: "HSE L23",
  zone: "HSE L23, at these hand heights",
  equation: "the NIOSH equation, where it is taken",
  equation_set_down: "the NIOSH equation, where it is set down",
};

function placeWords(view: LiftView, id: string): string {
  return view.supports.find((one) => one.id === id)?.say ?? id;
}

function reasons(view: LiftView, verdict: One): string[] {
  return verdict.passed.map((passed) =>
    passed.rule === "team"
      ? `All who lift: ${passed.share_kg} kg together, ${passed.limit_kg} kg is the team figure.`
      : passed.rule === "rating"
        ? `${placeWords(view, passed.place)}: ${passed.share_kg} kg, marked for ${passed.limit_kg} kg.`
        : `${placeWords(view, passed.place)}: ${passed.share_kg} kg, ${passed.limit_kg} kg is the figure for one person there${from(passed.rule)}.`,
  );
}

function from(rule: string): string {
  return FROM[rule] ? ` (${FROM[rule]})` : "";
}

/** Which published figure allowed one person least, in the phase that was judged worst. */
function decidedBy(verdict: One): string | null {
  if (!verdict.decided_by || !verdict.person_kg) return null;
  const least = `One person: ${verdict.person_kg} kg at most in “${verdict.phase}”`;
  return verdict.decided_by === "largest"
    ? `${least}, the largest figure of HSE L23: hands close, between elbow and knuckle. The plan does not tell where the hands are.`
    : `${least}, by ${FROM[verdict.decided_by]}: the least of L23's zone and the NIOSH equation at both ends.`;
}

/** EN 1005-2 guards each person's share where L23 discounts the sum: both are shown, neither loosens. */
function secondOpinion(view: LiftView, verdict: One): string {
  const passed = verdict.second_opinion_passed ?? [];
  const limits = [...new Set(passed.map((one) => one.limit_kg))];
  const each = limits.map((limit) => {
    const bear = passed
      .filter((one) => one.limit_kg === limit)
      .map((one) => `${one.share_kg} kg at “${placeWords(view, one.place)}”`);
    return ` By it ${limit} kg for one of several: passed by ${bear.join(", ")}.`;
  });
  return `Second opinion, EN 1005-2: ${verdict.second_opinion_kg} kg.${each.join("")}`;
}

/** Refused with the reason, in the words of the rule. */
function refusal(verdict: One): string {
  return verdict.passed.some((one) => one.rule === "rating")
    ? "Refused: a machine would bear more than it is marked for."
    : "Refused: over twice a published figure.";
}

/** In words for everybody, by the two published figures. */
export function VerdictPart({ view }: { view: LiftView }): JSX.Element | null {
  const best = view.verdicts.find((one) => one.figure_kg === "25");
  const other = view.verdicts.find((one) => one.figure_kg === "16");
  if (!best) return null;
  const borne = best.team_limit_kg !== null && best.team_limit_kg !== undefined;
  const decided = decidedBy(best);
  const both = other?.verdict === "within guidance" ? "25 and of the 16" : "25";
  return (
    <section class="stack" aria-label="Verdict">
      {best.verdict === "within guidance" ? (
        <p class="t-strong">
          Within guidance
          {borne
            ? ` for people of the ${both} kg figure`
            : view.places.some((place) => place.kind === "lifter")
              ? ": what is borne by hand, one person of the 16 kg figure could bear alone"
              : ": machines bear it, people guide"}
        </p>
      ) : (
        <RefusalPanel
          sentence={
            best.verdict === "refused" ? refusal(best) : "Above guidance: use a machine or change the plan."
          }
          remedy={reasons(view, best).join(" ")}
        />
      )}
      {borne && (
        <p>
          {best.team_share_kg} kg at worst in “{best.phase}”; the team figure is {best.team_limit_kg} kg.
          {best.second_opinion_kg && ` ${secondOpinion(view, best)}`}
        </p>
      )}
      {other && borne && other.verdict !== best.verdict && (
        <p>
          For people of the 16 kg figure: {other.verdict}. {reasons(view, other)[0]}
        </p>
      )}
      {view.let_go.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {view.above_reason && (
        <NoticeLine>
          Called above guidance, with this reason: <Payload id={view.above_reason} />
        </NoticeLine>
      )}
      {decided && <p>{decided}</p>}
      {borne && (
        <p class="t-dim">
          Together by HSE L23: two people two thirds of the sum, three half of it. No factor is printed for
          four: the best three count, and over twice a figure is refused, which is this project's choice. They
          guide. They do not know the floor, the grip or how anybody feels today.
        </p>
      )}
    </section>
  );
}
