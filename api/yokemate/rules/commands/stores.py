"""The tool store and the parts shelf."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from yokemate.planfile.model import TorqueWrenchPlan
from yokemate.rules.commands.fields import Id, Label, Moment, Number, Text
from yokemate.rules.frame import BUILDERS, CREW, Command, command


@command("wrench.enter", "/torque-wrenches", who=BUILDERS, refusals=("exists", "bad_input"))
class EnterTorqueWrench(Command):
    """Enter a torque wrench into the tool store."""

    wrench: Id
    name: Label
    plan: TorqueWrenchPlan


@command("wrench.check", "/torque-wrenches/{wrench}/checks", who=BUILDERS, refusals=("bad_input",))
class CheckTorqueWrench(Command):
    """Record a certificate or a house check of a torque wrench, named as such (R11)."""

    wrench: Id
    kind: Literal["certificate", "house_check"]
    checked_ms: Moment
    good: StrictBool
    until_ms: Moment
    note_text: Text | None = None


@command(
    "wrench.house_check", "/torque-wrenches/{wrench}/house-checks", who=BUILDERS, refusals=("bad_input",)
)
class HouseCheckByWeight(Command):
    """Check a torque wrench by a weighed mass hung on its level arm; whether it holds is worked out (R11). Its own weight, and
    where it balances, in the same units; without them they count for nothing.
    """

    wrench: Id
    mass: Number
    mass_unit: Literal["kg", "lb"] = "kg"
    arm: Number
    arm_unit: Literal["mm", "in"] = "mm"
    reading: Number
    own_mass: Number | None = None
    own_arm: Number | None = None


@command("wrench.retire", "/torque-wrenches/{wrench}/retire", who=BUILDERS, refusals=("already_closed",))
class RetireTorqueWrench(Command):
    """Take a torque wrench out of use, or back into it. What it read before keeps its worth (R11)."""

    wrench: Id
    back: StrictBool = False


@command("wrench.dropped", "/torque-wrenches/{wrench}/dropped", act="report")
class WrenchDropped(Command):
    """A torque wrench was dropped: unfit at once; what it made since its last good check is listed (R11)."""

    wrench: Id
    found_out_later: StrictBool = False
    dropped_ms: Moment | None = None


@command("tool.borrow", "/tools/{tool}/borrow", act="report", who=CREW)
class BorrowTool(Command):
    """Take a tool from the tool store. What is borrowed from the car is a loose end (`loose.report`)."""

    tool: Id
    count: int = 1


@command("tool.return", "/tools/{tool}/return", act="report", who=CREW)
class ReturnTool(Command):
    """Bring a tool back."""

    tool: Id
    count: int = 1
