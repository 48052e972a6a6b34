"""How a lift is judged by published figures, before anybody's own are known (R20, R21).

Only the plan and its shares are looked at: each lifter is taken to be of one published class, 25 or 16 kg, or of
what the lifting equation allows at that reach and height where that is less. Worked out by `calc`, written into an
entry, read ever after. Private limits act when places are offered, never here.
"""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

from yokemate.calc.errors import CalcError
from yokemate.calc.lifting import Judgement, Place, judge
from yokemate.calc.niosh import weight_limit
from yokemate.planfile.model import LiftPhase, LiftPlan
from yokemate.rules.lift_shares import phases_of
from yokemate.rules.rows.lifts import PassedFigure, Share, Verdict, VerdictWord
from yokemate.units import format_decimal

VERDICT_BY = "lifting 1"
FIGURES_KG = ("25", "16")
_WORSE: tuple[VerdictWord, ...] = get_args(VerdictWord)


def judge_lift(plan: LiftPlan, shares: list[Share]) -> list[Verdict]:
    """One verdict for each published class, that of the worst phase. Empty while there are no shares."""
    if not shares or plan.mass_kg is None:
        return []
    return [_worst(plan, shares, figure) for figure in FIGURES_KG]


def _worst(plan: LiftPlan, shares: list[Share], figure: str) -> Verdict:
    judged = [(phase, _phase(plan, phase, shares, float(figure))) for phase in phases_of(plan)]
    phase, worst = max(judged, key=lambda one: (_WORSE.index(one[1].verdict), len(one[1].reasons)))
    return Verdict(
        figure_kg=figure,
        verdict=_WORSE[_WORSE.index(worst.verdict)],
        phase=phase.say,
        passed=[
            PassedFigure(place=r.place, rule=r.rule, share_kg=_kg(r.share_kg), limit_kg=_kg(r.limit_kg))
            for r in worst.reasons
        ],
        team_share_kg=_kg(worst.team_share_kg),
        team_limit_kg=None if worst.team_limit_kg is None else _kg(worst.team_limit_kg),
        second_opinion_kg=None if worst.second_opinion_kg is None else _kg(worst.second_opinion_kg),
        by=VERDICT_BY,
    )


def _phase(plan: LiftPlan, phase: LiftPhase, shares: list[Share], figure_kg: float) -> Judgement:
    allowed = _allowed(phase, figure_kg)
    borne = {share.support: share for share in shares if share.phase == phase.say}
    places = []
    for support in plan.supports:
        share = borne.get(support.id)
        if share is None:
            continue
        machine = support.kind != "lifter"
        limit = float(support.rated_kg or 50_000) if machine else allowed
        places.append(Place(support.id, float(share.worst_kg), limit, machine, float(share.least_kg)))
    assert plan.mass_kg is not None
    return judge(places, float(plan.mass_kg) + float(plan.mass_plus_minus_kg))


def _allowed(phase: LiftPhase, figure_kg: float) -> float:
    """The published figure, or what the lifting equation allows where hands are far out or low, if that is less."""
    if phase.reach_cm is None or phase.hands_height_cm is None:
        return figure_kg
    try:
        equation = weight_limit(
            float(phase.reach_cm),
            float(phase.hands_height_cm),
            float(phase.vertical_travel_cm or 25),
            float(phase.twist_deg or 0),
            coupling=phase.grip or "fair",
        )
    except CalcError:
        return 0.0  # a reach or height that nobody has: nothing is allowed there
    return min(figure_kg, equation.limit_kg)


def _kg(value: float) -> str:
    return format_decimal(Fraction(value).limit_denominator(1_000_000), 1)
