"""Loose ends, gates, and the second of two people."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from yokemate.planfile.model import Line
from yokemate.rules.commands.fields import Id, PhotoId, Text
from yokemate.rules.frame import CREW, LEAD, Command, command


@command("loose.report", "/loose-ends", act="report", who=CREW)
class ReportLooseEnd(Command):
    """Dropped, left in, or anything else that must be made good: two taps, minors too (R23)."""

    kind: Literal["dropped", "left_in", "loosened", "unplugged", "opened", "propped", "borrowed", "other"]
    zone: Id | None = None
    what_text: Text | None = None
    photo: PhotoId | None = None
    task: Id | None = None
    gate: Id | None = None


@command(
    "loose.make_good",
    "/loose-ends/{loose_end}/made-good",
    refusals=("made_good_by_step", "critical_by_two", "already_closed"),
)
class MakeGood(Command):
    """Made good. Where a planned step restores it, only that step does (R23)."""

    loose_end: Id
    photo: PhotoId | None = None


@command(
    "loose.propose_another_way",
    "/loose-ends/{loose_end}/another-way",
    refusals=("already_closed", "minor_cannot"),
)
class ProposeAnotherWay(Command):
    """Put right another way: proposed with a reason, seconded by somebody else (R23)."""

    loose_end: Id
    reason_text: Text


@command(
    "gate.propose", "/gates/{gate}/propose", sent="now", who=LEAD, deputy=True, needs_seen=True,
    refusals=("gate_wants", "gate_open", "on_the_day_missing", "minor_cannot"),
)  # fmt: skip
class ProposeOpen(Command):
    """Open the gate, first of two: says that every condition of the day is true (R25)."""

    gate: Id
    confirmed: list[Line]


@command(
    "two.second", "/proposals/{proposal}/second", sent="now", needs_seen=True,
    refusals=("somebody_else", "may_not_countersign", "minor_cannot", "proposal_lapsed"),
)  # fmt: skip
class Second(Command):
    """Second what another proposed: a gate, another way, an absent owner's tag. By own phone, or with PIN."""

    proposal: Id


@command("two.withdraw", "/proposals/{proposal}/withdraw", refusals=("only_the_proposer", "proposal_lapsed"))
class WithdrawProposal(Command):
    """Take one's own proposal back."""

    proposal: Id


@command("engine.say", "/engine", act="report")
class SayEngine(Command):
    """The engine is running, or off (R25, R27)."""

    running: StrictBool
