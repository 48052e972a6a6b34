"""Torque wrenches of the tool store: a scale that can be read, a check by a day there is (R11)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from yokemate.planfile.check_groups import MOST_TORQUE
from yokemate.planfile.model import Plan, TorqueWrenchPlan
from yokemate.planfile.told import Told

LONGEST_MONTHS = 120
SMALLEST_STEP, LARGEST_STEP = Fraction(1, 1000), 1000  # as far as the nearest mark is worked out


@dataclass(frozen=True)
class WrenchFault:
    """What is wrong with one field of a torque wrench, and the remedy."""

    field: str
    says: str
    remedy: str


def tool_findings(plan: Plan, told: Told) -> None:
    for n, tool in enumerate(plan.tools):
        for fault in wrench_faults(tool.torque_wrench) if tool.torque_wrench else ():
            loc = ("tools", n, "torque_wrench", fault.field)
            told.error(f"torque_wrench_{fault.field}", loc, fault.says, fault.remedy)


def wrench_faults(wrench: TorqueWrenchPlan) -> Iterator[WrenchFault]:
    """Of a plan file and of the form in the tool store alike."""
    if not 0 <= Fraction(wrench.lowest) < Fraction(wrench.highest):
        yield WrenchFault(
            "highest",
            "the range ends before it begins.",
            "Give the lowest and the highest mark of its scale.",
        )
    elif Fraction(wrench.highest) > MOST_TORQUE:
        yield WrenchFault("highest", f"no scale goes to {wrench.highest}.", "Look for a nought too many.")
    if not SMALLEST_STEP <= Fraction(wrench.step) <= LARGEST_STEP:
        yield WrenchFault("step", "marks are 0.001 to 1000 apart.", "Give the way from one mark to the next.")
    if wrench.arm_mm is not None and Fraction(wrench.arm_mm) <= 0:
        yield WrenchFault(
            "arm_mm",
            "an arm is longer than nothing.",
            "Measure from the square drive to the middle of the grip.",
        )
    if wrench.checked_on is not None and not _is_day(wrench.checked_on):
        yield WrenchFault("checked_on", f'"{wrench.checked_on}" is no day.', "Write it like 2026-03-31.")
    if not 1 <= wrench.check_months <= LONGEST_MONTHS:
        yield WrenchFault(
            "check_months",
            f"it is checked every 1 to {LONGEST_MONTHS} months.",
            "Give the months between two checks; its paper says them.",
        )


def _is_day(said: str) -> bool:
    try:
        return date.fromisoformat(said).isoformat() == said
    except ValueError:
        return False
