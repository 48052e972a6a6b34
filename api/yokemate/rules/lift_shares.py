"""What each support of a lift bears, phase by phase, worked out once and written into an entry (R2, R20).

Shares are figures, not verdicts: whether one is within guidance is judged in `lift_verdict.py`. Here a lift is at
most *unfit*: mass or centre of gravity not known, it tips, or a support would bear more than it is marked for, or
nobody has said what that is. In a phase that is tilted either end may be the lower one, and the worse of both counts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import cos, radians

from yokemate.calc.errors import CalcError
from yokemate.calc.slope import shift_on_slope
from yokemate.calc.statics import Share as Borne
from yokemate.calc.statics import Shares, support_shares
from yokemate.calc.statics import Support as Rest
from yokemate.planfile.model import LiftPhase, LiftPlan, Support
from yokemate.rules.rows.lifts import Share
from yokemate.units import format_decimal

SHARES_BY = "statics 3"
MOST_ABOVE_MM = 2000  # what calc reckons with
_UNFIT_FIELDS = {
    "mass_kg": "mass_unknown",
    "mass_plus_minus_kg": "mass_unknown",
    "supports": "supports_unclear",
}


def phases_of(plan: LiftPlan) -> list[LiftPhase]:
    """The phases of a lift; without any there is one, with every support in it."""
    whole = LiftPhase(say=plan.title, supports=[support.id for support in plan.supports])
    return list(plan.phases) or [whole]


def by_phase(plan: LiftPlan, shares: list[Share]) -> list[tuple[LiftPhase, list[Share]]]:
    """Each phase with what its supports bear, by their order: `work_out_shares` gives one share for each support of each."""
    left = iter(shares)
    known = {support.id for support in plan.supports}
    return [(phase, [next(left) for _ in known & set(phase.supports)]) for phase in phases_of(plan)]


def work_out_shares(plan: LiftPlan) -> tuple[list[Share], str | None, str]:
    """Shares in kg to 0.1, why it can't be lifted (a refusal code) or None, and what worked it out.

    A person's worst share is the most they bear with the load anywhere within its uncertainty; that of a
    machine, stand or jack the most it may bear however the others give.
    """
    if plan.mass_kg is None:
        return [], "mass_unknown", SHARES_BY
    if plan.cg_x_mm is None or plan.cg_y_mm is None:
        return [], "cg_unknown", SHARES_BY
    shares: list[Share] = []
    unfit: str | None = None
    for phase in phases_of(plan):
        supports = [support for support in plan.supports if support.id in phase.supports]
        try:
            borne = worse_of([_borne(plan, supports, load) for load in loads_of(plan, phase)])
        except CalcError as error:
            return [], _UNFIT_FIELDS.get(error.field, "tips"), SHARES_BY
        for support, share in zip(supports, borne, strict=True):
            worst = format_decimal(Fraction(share.judged_kg), 1)
            least = share.least_kg if support.kind == "lifter" else share.envelope_min_kg
            if support.rated_kg is not None and Fraction(worst) > Fraction(support.rated_kg):
                unfit = "over_rating"
            shares.append(
                Share(
                    support=support.id,
                    phase=phase.say,
                    nominal_kg=format_decimal(Fraction(share.nominal_kg), 1),
                    worst_kg=worst,
                    least_kg=format_decimal(Fraction(least), 1),
                )
            )
    if unfit is None and unmarked(plan, shares):
        unfit = "rating_unknown"
    return shares, unfit, SHARES_BY


def unmarked(plan: LiftPlan, shares: list[Share]) -> list[Support]:
    """Machines that bear something, and nobody has said what they are marked for: there is nothing to judge them by."""
    return [
        support
        for support in plan.supports
        if support.kind != "lifter"
        and support.rated_kg is None
        and Decimal(worst_share_kg(shares, support.id) or "0") > 0
    ]


def worst_share_kg(shares: list[Share], place: str) -> str | None:
    """The most that a place bears in any phase, or None where nobody bears anything."""
    there = [share.worst_kg for share in shares if share.support == place]
    return max(there, key=Decimal) if there else None


def people_most_kg(plan: LiftPlan, phase: LiftPhase) -> float:
    """The most that those who lift bear together in a phase, however its machines, stands and jacks give (R20)."""
    supports = [support for support in plan.supports if support.id in phase.supports]
    return max(_borne(plan, supports, load).people_most_kg for load in loads_of(plan, phase))


@dataclass(frozen=True)
class LoadAt:
    """Where a load's centre of gravity lies over its supports, seen from above, and how far off along and across it."""

    x_mm: float
    y_mm: float
    off_x_mm: float
    off_y_mm: float


def loads_of(plan: LiftPlan, phase: LiftPhase) -> list[LoadAt]:
    """The load of a phase as if it was level: once, or where it is tilted once for each end that may be the lower one.

    What is not known of the centre of gravity reaches all ways, so tilted it reaches farther along the load.
    """
    assert plan.cg_x_mm is not None and plan.cg_y_mm is not None
    x, y, off = float(plan.cg_x_mm), float(plan.cg_y_mm), float(plan.cg_plus_minus_mm)
    if not tilted(plan, phase):
        return [LoadAt(x, y, off, off)]
    tilt = tilt_deg(phase)
    shift = shift_on_slope(float(plan.cg_above_hands_mm or 0), tilt)
    return [LoadAt(x + way * shift, y, off / cos(radians(tilt)), off) for way in (-1, 1)]


def tilt_deg(phase: LiftPhase) -> float:
    return float(phase.tilt_deg or 0)


def tilted(plan: LiftPlan, phase: LiftPhase) -> bool:
    """Tilted, and the plan tells how high the centre of gravity is: else it is reckoned as level, and that is said."""
    return plan.cg_above_hands_mm is not None and tilt_deg(phase) > 0


def worse_of(ways: list[Shares]) -> list[Borne]:
    """For each support the case in which it bears most, with the least that it bears in any."""
    return [
        replace(
            max(cases, key=lambda share: share.judged_kg),
            least_kg=min(share.least_kg for share in cases),
            envelope_min_kg=min(share.envelope_min_kg for share in cases),
        )
        for cases in zip(*(way.shares for way in ways), strict=True)
    ]


def _borne(plan: LiftPlan, supports: list[Support], load: LoadAt) -> Shares:
    assert plan.mass_kg is not None
    return _shares(
        float(plan.mass_kg),
        tuple(
            Rest(support.id, float(support.x_mm), float(support.y_mm), stiff=support.kind != "lifter")
            for support in supports
        ),
        load,
        float(plan.mass_plus_minus_kg),
    )


@lru_cache(
    maxsize=64
)  # most phases of a lift rest on the same supports, and each is asked for its people too
def _shares(mass_kg: float, rests: tuple[Rest, ...], load: LoadAt, mass_off_kg: float) -> Shares:
    return support_shares(
        mass_kg, rests, load.x_mm, load.y_mm, load.off_x_mm, load.off_y_mm, region="ellipse",
        mass_plus_minus_kg=mass_off_kg,
    )  # fmt: skip
