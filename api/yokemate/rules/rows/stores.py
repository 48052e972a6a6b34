"""The tool store: torque wrenches, tools, parts."""

from __future__ import annotations

from typing import ClassVar, Literal

from yokemate.planfile.model import PartPlan, ToolPlan, TorqueWrenchPlan
from yokemate.rules.frame import Row, RowPart


class Weighed(RowPart):
    """A house check by a weight on the arm: as typed, and what was worked out of it."""

    mass: str
    mass_unit: Literal["kg", "lb"]
    arm: str
    arm_unit: Literal["mm", "in"]
    reading: str  # on the torque wrench's own scale
    applied: str  # what mass and own weight make, in the torque wrench's unit
    deviation_percent: str
    permitted_percent: str
    calc: str  # calculation and its version
    own_mass: str | None = None  # the torque wrench itself, in `mass_unit`; None: not counted
    own_arm: str | None = None  # square drive to where it balances, in `arm_unit`


class WrenchCheck(RowPart):
    """A certificate or a house check. Good until `until_ms`."""

    kind: Literal["certificate", "house_check"]
    at_ms: int
    until_ms: int
    good: bool
    by: str
    note: str | None = None
    weighed: Weighed | None = None


class TorqueWrench(Row):
    KIND: ClassVar[str] = "torque_wrench"
    name: str
    plan: TorqueWrenchPlan
    checks: list[WrenchCheck] = []
    dropped_ms: int | None = None  # unfit from here until the next good check (R11)
    drops: list[int] = []  # every drop, so that a late reading is judged for its own moment
    retired_ms: int | None = None  # out of use from here on; a reading taken before keeps its worth (R11)


class Tool(Row):
    KIND: ClassVar[str] = "tool"
    plan: ToolPlan
    out: dict[str, int] = {}  # person -> count


class Part(Row):
    KIND: ClassVar[str] = "part"
    plan: PartPlan
    in_stock: int
    in_use: int = 0
    bag: str | None = None
    expected_on: str | None = None  # ISO date on which it should arrive
