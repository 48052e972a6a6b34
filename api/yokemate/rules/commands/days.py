"""The build days: taking a plan of them, wanted dates of gates, expected arrival of parts."""

from __future__ import annotations

from yokemate.planfile.model import IsoDay
from yokemate.rules.commands.fields import Id
from yokemate.rules.frame import LEAD, Command, command


@command("days.take", "/days/take", sent="now", who=LEAD, refusals=("offer_gone", "offer_stale"))
class TakeDays(Command):
    """Take a plan of the build days that was worked out; from then on it is what the crew sees."""

    offer: Id


@command("gate.want", "/gates/{gate}/wanted", who=LEAD, refusals=("bad_input",))
class WantGate(Command):
    """Say by which date a gate is wanted; no date: none."""

    gate: Id
    on: IsoDay | None = None


@command("part.expect", "/parts/{part}/expected", who=LEAD, refusals=("bad_input",))
class ExpectPart(Command):
    """Say on which date a part is expected; no date: nobody knows, and work that lacks it waits."""

    part: Id
    on: IsoDay | None = None
