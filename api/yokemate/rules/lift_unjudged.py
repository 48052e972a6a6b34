"""What the figures of a lift leave out, in words: shown beside its verdict, and told when its plan is loaded (R20)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from yokemate.calc.lifting_filter import CARRIED_M
from yokemate.planfile.model import LiftPlan
from yokemate.rules.lift_crew import lifter_places
from yokemate.rules.lift_shares import phases_of, tilt_deg

MOST_TOGETHER = 4  # HSE L23 par. 120: more are unlikely to work together


@dataclass(frozen=True)
class Unjudged:
    """A code, the plan's field, what is left out, what to do about it, and by which guidance."""

    code: str
    field: tuple[str, ...]
    says: str
    remedy: str
    source: str


def unjudged(plan: LiftPlan) -> list[Unjudged]:
    return [*_carried(plan), *_slope(plan), *_steps(plan), *_many(plan)]


def _carried(plan: LiftPlan) -> Iterator[Unjudged]:
    """By hand and farther than the figures hold for without a rest."""
    if plan.path is not None and lifter_places(plan) and float(plan.path.length_m) > CARRIED_M:
        yield Unjudged(
            "carried_far", ("path", "length_m"),
            f"{plan.path.length_m} m by hand, and the figures for one person hold to about {CARRIED_M:g} m without a rest.",
            "Plan a place to set it down on the way, or put it on wheels.", "HSE L23 and INDG143, carrying.",
        )  # fmt: skip


def _slope(plan: LiftPlan) -> Iterator[Unjudged]:
    """A tilted phase is judged, but only for hands that push straight up; and not without the height of the centre of
    gravity."""
    phases = [phase for phase in phases_of(plan) if tilt_deg(phase) > 0]
    if not phases:
        return
    where = " and ".join(f"“{phase.say}”, {phase.tilt_deg}°" for phase in phases)
    if plan.cg_above_hands_mm is None:
        yield Unjudged(
            "tilt_not_judged", ("phases",),
            f"The load is tilted ({where}), and these shares and their verdict are for level ground: how high its centre of "
            "gravity is above the hands is not in the plan.",
            "Measure it (the Bench has how, with scales and the load tilted) and type it where the load is weighed, or write "
            "`cg_above_hands_mm: ...` in the plan; below the hands it is negative.",
            "HSE L23 par. 119 to 120.",
        )  # fmt: skip
    else:
        yield Unjudged(
            "slope_at_least", ("phases",),
            f"The load is tilted ({where}), either end the lower one, and these shares are for hands that push straight up. "
            "Whoever also holds it against the slope bears more: take them as at least.",
            "Let a rope or a winch hold it along the slope, and stand out of its way downhill.",
            "Balance of moments; HSE L23 par. 119 to 120: most of the weight may fall on the lower handlers.",
        )  # fmt: skip


def _steps(plan: LiftPlan) -> Iterator[Unjudged]:
    """Steps on the way, and no phase that tells how far they tilt the load."""
    if any(tilt_deg(phase) > 0 for phase in phases_of(plan)):
        return
    if plan.path is not None and plan.path.steps > 0:
        steps = f"{plan.path.steps} {'step' if plan.path.steps == 1 else 'steps'}"
        yield Unjudged(
            "steps_not_judged", ("path", "steps"),
            f"{steps} on the way, and these shares and their verdict are for level ground: on steps or a slope most of the "
            "weight may fall on the lower hands.",
            "Go another way, let machines bear it, or give the phase on them its tilt (`tilt_deg: ...`) and the load its "
            "`cg_above_hands_mm: ...`: then it is judged.",
            "HSE L23 par. 119 to 120.",
        )  # fmt: skip


def _many(plan: LiftPlan) -> Iterator[Unjudged]:
    lifters = len(lifter_places(plan))
    if lifters > MOST_TOGETHER:
        yield Unjudged(
            "many_lifters", ("supports",),
            f"{lifters} lift together, and the best three count: more than {MOST_TOGETHER} are unlikely to work together.",
            "Let a machine bear it, and let people guide.", "HSE L23 par. 120; counting three is this project's choice.",
        )  # fmt: skip
