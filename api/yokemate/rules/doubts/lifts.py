"""A lift as planned, held against the published figures (R20): what would be refused or judged above guidance.

Private limits are not looked at (R21). A mass or centre of gravity that is not known is told by `planfile`.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import cast

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import LiftPlan, Plan
from yokemate.planfile.told import Told
from yokemate.rules.lift_crew import guide_places, lifter_places, place_words
from yokemate.rules.lift_person_figure import SOURCE
from yokemate.rules.lift_shares import work_out_shares, worst_share_kg
from yokemate.rules.lift_unjudged import unjudged
from yokemate.rules.lift_verdict import judge_lift
from yokemate.rules.rows.lifts import DecidedBy, PassedFigure, Share, Verdict

BY = (
    "HSE L23 for one person and for teams, NIOSH 94-110 where the plan tells hand height and reach, the least of them; over "
    "twice a figure is refused: this project's."
)
_UNFIT = {
    "tips": ("it tips: its centre of gravity is not surely inside the supports.", "Move a support, or weigh it more closely."),
    "supports_unclear": (
        "two of its supports are at one place, or there are more than eight.",
        "Give each its own x and y, and bear it on eight at most.",
    ),
}  # fmt: skip


def lift_doubts(plan: Plan, in_force: Plan, told: Told) -> None:
    must = {task.lift: (task.id, task.must_people) for task in in_force.tasks if task.lift is not None}
    for n, lift in enumerate(plan.lifts):
        loc: Loc = ("lifts", n)
        shares, unfit, _by = work_out_shares(lift)
        if unfit in _UNFIT:
            said, remedy = _UNFIT[unfit]
            told.doubt(
                f"lift_{unfit}", loc, f"{said} It will be refused.", remedy, "Balance of forces and moments."
            )
        _ratings(lift, shares, loc, told)
        if unfit is None:
            _verdict(lift, judge_lift(lift, shares), loc, told)
        for one in unjudged(lift):
            told.doubt(one.code, (*loc, *one.field), one.says, one.remedy, one.source)
        _people(lift, must.get(lift.id), loc, told)


def _ratings(lift: LiftPlan, shares: list[Share], loc: Loc, told: Told) -> None:
    for n, support in enumerate(lift.supports):
        worst = worst_share_kg(shares, support.id)
        if support.kind == "lifter" or worst is None:
            continue
        where = (*loc, "supports", n, "rated_kg")
        if support.rated_kg is None:
            if Decimal(worst) > 0:
                told.doubt(
                    "rating_unknown", where,
                    f"{support.say} bears up to {worst} kg and nothing says what it is marked for. It will be refused until somebody "
                    "does.",
                    "Read the marking (a boom's at the hole used; a pair of stands bears half each) and write `rated_kg: ...`.",
                    "A marking decides, never a sum; stands count per pair where the marking is silent (common practice).",
                )  # fmt: skip
        elif Fraction(worst) > Fraction(support.rated_kg):
            told.doubt(
                "over_rating", where,
                f"{support.say} bears up to {worst} kg and is marked for {support.rated_kg} kg. It will be refused.",
                "Use one that is marked for more, or bear part of the load elsewhere.", "The marking (R20).",
            )  # fmt: skip


def _verdict(lift: LiftPlan, verdicts: list[Verdict], loc: Loc, told: Told) -> None:
    """By the larger published figure; within guidance by that alone is said when the smaller is passed."""
    if not verdicts:
        return
    strong, others = verdicts
    if strong.verdict != "within guidance":
        refused = strong.verdict == "refused"
        told.doubt(
            "lift_refused" if refused else "lift_above_guidance", loc,
            f"{'it will be refused' if refused else 'above guidance'}, even with people of the {strong.figure_kg} kg "
            f"figure: {passed_words(lift, strong)}",
            "Let a machine bear it, or change the plan.", BY,
        )  # fmt: skip
    elif others.verdict != "within guidance":
        told.doubt(
            "lift_for_few", loc,
            f"within guidance for people of the {strong.figure_kg} kg figure only. For those of the {others.figure_kg} kg "
            f"figure: {passed_words(lift, others)}",
            "Let a machine bear it or bear more of it; else these places are not for everybody.", BY,
        )  # fmt: skip


def passed_words(lift: LiftPlan, verdict: Verdict) -> str:
    """The figures that were passed, in a sentence; two of them, the team's first."""
    said = [_passed(lift, one) for one in sorted(verdict.passed, key=lambda one: one.rule != "team")[:2]]
    return f"{'; '.join(said)} ({verdict.phase})." if said else f"{verdict.phase}."


def _passed(lift: LiftPlan, one: PassedFigure) -> str:
    if one.rule == "team":
        return f"{one.share_kg} kg for all who lift, and {one.limit_kg} kg is their figure together"
    at = f"{one.share_kg} kg at {place_words(lift, one.place)}, and"
    if one.rule == "rating":
        return f"{at} it is marked for {one.limit_kg} kg"
    return f"{at} the figure for one person there is {one.limit_kg} kg ({SOURCE[cast(DecidedBy, one.rule)]})"


def _people(lift: LiftPlan, task: tuple[str, int] | None, loc: Loc, told: Told) -> None:
    """More must come than the lift has places for: with every place taken it would still be too few (R18)."""
    places = len(lifter_places(lift)) + len(guide_places(lift))
    if task is not None and task[1] > places:
        told.doubt(
            "lift_places_few", (*loc, "guides"),
            f"task {task[0]} must have {task[1]} people and the lift has places for {places} who lift or guide.",
            f"Write `guides: {min(lift.guides + task[1] - places, 6)}`, or ask for fewer people.",
            "People of a lift are its lifters and guides (R18).",
        )  # fmt: skip
