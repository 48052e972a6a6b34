"""What the figures of a lift leave out, in words: shown beside its verdict, and told when its plan is loaded (R20)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from yokemate.calc.lifting_filter import CARRIED_M
from yokemate.planfile.model import LiftPlan
from yokemate.rules.lift_crew import lifter_places

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
    return [*_carried(plan), *_steps(plan), *_many(plan)]


def _carried(plan: LiftPlan) -> Iterator[Unjudged]:
    """By hand and farther than the figures hold for without a rest."""
    if plan.path is not None and lifter_places(plan) and float(plan.path.length_m) > CARRIED_M:
        yield Unjudged(
            "carried_far", ("path", "length_m"),
            f"{plan.path.length_m} m by hand, and the figures for one person hold to about {CARRIED_M:g} m without a rest.",
            "Plan a place to set it down on the way, or put it on wheels.", "HSE L23 and INDG143, carrying.",
        )  # fmt: skip


def _steps(plan: LiftPlan) -> Iterator[Unjudged]:
    """How steep they are and how high the centre of gravity is above the hands is not in the plan."""
    if plan.path is not None and plan.path.steps > 0:
        steps = f"{plan.path.steps} {'step' if plan.path.steps == 1 else 'steps'}"
        yield Unjudged(
            "steps_not_judged", ("path", "steps"),
            f"{steps} on the way, and these shares and their verdict are for level ground: on steps or a slope most of the "
            "weight may fall on the lower hands.",
            "Go another way, let machines bear it, or work out the slope on the Bench and hold it against each person's figure.",
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
