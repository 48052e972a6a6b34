"""How a lift is judged by published figures, before anybody's own are known (R20, R21).

Only the plan and its shares are looked at: each lifter is taken to be of one published class, 25 or 16 kg, and to bear
no more than the phase allows that class (`lift_person_figure.py`). Worked out by `calc`, written into an entry, read
ever after. Private limits act when places are offered, never here.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from yokemate.calc.lifting import Judgement, Place, Reason, judge
from yokemate.planfile.model import LiftPhase, LiftPlan
from yokemate.rules.lift_person_figure import PersonFigure, person_figure
from yokemate.rules.lift_shares import by_phase, people_most_kg, unmarked
from yokemate.rules.rows.lifts import PassedFigure, Share, Verdict, VerdictWord
from yokemate.units import format_decimal

VERDICT_BY = "lifting 5"
FIGURES_KG = ("25", "16")
_WORSE: tuple[VerdictWord, ...] = get_args(VerdictWord)


def judge_lift(plan: LiftPlan, shares: list[Share]) -> list[Verdict]:
    """One verdict for each published class, that of the worst phase.

    Empty while there are no shares, or a machine's marking is unknown: the marking decides, never a guess at it.
    """
    if not shares or plan.mass_kg is None or unmarked(plan, shares):
        return []
    return [_worst(plan, shares, figure) for figure in FIGURES_KG]


def _worst(plan: LiftPlan, shares: list[Share], figure: str) -> Verdict:
    judged = [_Judged(phase, *_phase(plan, phase, borne, figure)) for phase, borne in by_phase(plan, shares)]
    worst = max(judged, key=_badness)
    found, person = worst.found, worst.person
    borne = found.team_limit_kg is not None
    return Verdict(
        figure_kg=figure,
        verdict=_WORSE[_WORSE.index(found.verdict)],
        phase=worst.phase.say,
        person_kg=_kg(person.kg) if borne else None,
        decided_by=person.by if borne else None,
        passed=[_passed(reason, person) for reason in found.reasons],
        team_share_kg=_kg(found.team_share_kg),
        team_limit_kg=None if found.team_limit_kg is None else _kg(found.team_limit_kg),
        second_opinion_kg=None if found.second_opinion_kg is None else _kg(found.second_opinion_kg),
        second_opinion_passed=[_passed(reason, person) for reason in found.second_opinion_passed],
        by=VERDICT_BY,
    )


def _passed(reason: Reason, person: PersonFigure) -> PassedFigure:
    return PassedFigure(
        place=reason.place,
        rule=person.by if reason.rule == "own place" else reason.rule,
        share_kg=_kg(reason.share_kg),
        limit_kg=_kg(reason.limit_kg),
    )


@dataclass(frozen=True)
class _Judged:
    phase: LiftPhase
    found: Judgement
    person: PersonFigure


def _badness(one: _Judged) -> tuple[int, int, float]:
    """The verdict first; of phases alike, that in which the people come nearest to their figure."""
    limit = one.found.team_limit_kg
    near = 0.0 if limit is None else one.found.team_share_kg / max(limit, 0.1)
    return _WORSE.index(one.found.verdict), len(one.found.reasons), near


def _phase(
    plan: LiftPlan, phase: LiftPhase, borne: list[Share], figure: str
) -> tuple[Judgement, PersonFigure]:
    person = person_figure(phase, figure)
    supports = {support.id: support for support in plan.supports}
    places = []
    for share in borne:
        support = supports[share.support]
        machine = support.kind != "lifter"
        limit = min(float(support.rated_kg or 0), 50_000.0) if machine else person.kg
        places.append(Place(support.id, float(share.worst_kg), limit, machine))
    weakest = person_figure(phase, FIGURES_KG[-1]).kg  # who could bear alone what all bear needs no sums
    return judge(places, people_most_kg(plan, phase), weakest), person


def _kg(value: float) -> str:
    return format_decimal(Fraction(value).limit_denominator(1_000_000), 1)
