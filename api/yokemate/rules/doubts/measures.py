"""Measures: one that nothing can judge, a limit ten times off, a length that no car has."""

from __future__ import annotations

from fractions import Fraction

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import Measure, Plan
from yokemate.planfile.told import Told
from yokemate.units import convert_exact, format_decimal

BY = "Judgement of this project."
FARTHEST_MM = 6000  # longer than the cars this is for
FAR_TIMES = 5  # a slip of the decimal mark makes ten


def measure_doubts(plan: Plan, told: Told) -> None:
    for n, task in enumerate(plan.tasks):
        for m, step in enumerate(task.steps):
            if step.measure is not None:
                _measure(step.measure, ("tasks", n, "steps", m, "measure"), told)


def _measure(measure: Measure, loc: Loc, told: Told) -> None:
    if measure.low is None and measure.high is None:
        told.doubt(
            "measure_unlimited", loc, f"{measure.say}: no limit says when it is good, so any figure will do.",
            "Write `low: ...`, `high: ...` or both, as the manual has them.", "A value outside its limits is a deviation (R9).",
        )  # fmt: skip
    for field in ("low", "high"):
        _limit(measure, field, (*loc, field), told)
    figures = [Fraction(f) for f in (measure.low, measure.nominal, measure.high) if f is not None]
    if measure.unit in ("mm", "cm", "m", "in") and figures:
        longest = max(abs(convert_exact(figure, measure.unit, "mm")) for figure in figures)
        if longest > FARTHEST_MM:
            told.doubt(
                "measure_far", loc, f"{measure.say}: {format_decimal(longest / 1000, 1)} m is longer than the car.",
                "Look at the unit in the manual.", BY,
            )  # fmt: skip


def _limit(measure: Measure, field: str, loc: Loc, told: Told) -> None:
    limit, nominal = getattr(measure, field), measure.nominal
    if limit is None or nominal is None or Fraction(limit) == 0 or Fraction(nominal) == 0:
        return
    times = abs(Fraction(limit) / Fraction(nominal))
    if measure.unit != "c" and not Fraction(1, FAR_TIMES) < times < FAR_TIMES:
        told.doubt(
            "measure_limit_far", loc,
            f"{measure.say}: the limit {limit} is far from the nominal {nominal} {measure.unit}.",
            "Look where the decimal mark stands.", BY,
        )  # fmt: skip
