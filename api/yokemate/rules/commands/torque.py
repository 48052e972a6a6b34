"""Torque and the second person."""

from __future__ import annotations

from typing import Literal

from yokemate.planfile.model import CheckMethod, TorqueUnit
from yokemate.rules.commands.fields import Digest, Id, Number, PhotoId, Reason, Text
from yokemate.rules.frame import CREW, Command, RowPart, command


class Brought(RowPart):
    n: int
    reading: Number | None = None  # None: clicked at the set value
    angle_deg: Number | None = None  # turned on by, where the pass asks for a turn
    gap_mm: Number | None = None  # measured, where the spec asks for a gap


@command("torque.read", "/groups/{group}/readings", act="report")
class TakeReadings(Command):
    """What the torque wrench showed, that it clicked, or by how much it was turned, for fasteners of one pass (R11, R12).

    A pass that only turns has no torque wrench, set value and unit; every other has all three.
    """

    group: Id
    task: Id | None = None
    pass_no: int
    wrench: Id | None = None
    set_value: Number | None = None
    unit: TorqueUnit | None = None
    extension_mm: Number | None = None
    extension_angle_deg: Number | None = None
    drag: Number | None = None  # prevailing torque measured, same unit
    faces: Literal["clean", "dirty", "damaged"] | None = None
    threads: Literal["clean_dry", "oiled", "locker", "anti_seize", "damaged"] | None = None
    helped: list[Id] = []
    bolts: list[Brought]
    photo: PhotoId | None = None


@command("torque.run_in", "/groups/{group}/run-in", act="report")
class RunIn(Command):
    """Fasteners run in or snug, NOT tight: opens a loose end (R23)."""

    group: Id
    task: Id | None = None
    bolts: list[int]
    how: Literal["run_in", "snug"]
    helped: list[Id] = []


@command("torque.correct", "/readings/{reading}/correct", act="report")
class CorrectReading(Command):
    """Typed wrong: crosses out and replaces, visibly, and lapses what rested on it (R17)."""

    reading: Id
    value: Number | None = None  # None: it clicked
    set_value: Number | None = None
    unit: TorqueUnit | None = None
    angle_deg: Number | None = None  # of a pass that turns: by how much it was turned


@command("torque.new_fastener", "/groups/{group}/new-fastener", act="report")
class NewFastener(Command):
    """A new single-use fastener was fitted (R15)."""

    group: Id
    bolts: list[int]


@command("torque.stop_here", "/groups/{group}/stop-here", act="report")
class StopHere(Command):
    """The final pass was interrupted: it starts again at its first fastener (R10)."""

    group: Id


@command("torque.ask_check", "/groups/{group}/ask-check", act="report")
class AskCheck(Command):
    """Ask for a second person."""

    group: Id


class Looked(RowPart):
    n: int
    found: Literal["holds", "moved"]
    how: CheckMethod
    value: Number | None = None
    unit: TorqueUnit | None = None


@command(
    "torque.note_check",
    "/groups/{group}/checks",
    refusals=(
        "may_not_countersign",
        "fresh_eyes",
        "minor_cannot",
        "method_not_allowed",
        "bolts_missing",
        "readings_changed",
        "nothing_to_check",
    ),
)
class NoteCheck(Command):
    """Checked, PIN due: what the second person found on each fastener (R13)."""

    group: Id
    readings_digest: Digest
    bolts: list[Looked]


@command(
    "torque.countersign",
    "/countersigns",
    sent="now",
    pin=True,
    needs_seen=True,
    refusals=(
        "may_not_countersign",
        "fresh_eyes",
        "minor_cannot",
        "readings_changed",
        "check_missing",
        "check_moved",
        "nothing_to_check",
        "unsent_readings",
    ),
)
class SignGroups(Command):
    """Countersign the groups of one walk round with one PIN, for exactly the readings seen (R13, R14)."""

    checks: list[Id]
    readings_digests: dict[Id, Digest]
    unsent_groups: list[Id] = []  # groups with readings that this phone has not handed over yet


@command(
    "torque.send_back",
    "/groups/{group}/send-back",
    refusals=("may_not_countersign", "fresh_eyes", "minor_cannot", "nothing_to_check"),
)
class SendBack(Command):
    """Send a group back: which bolt and why."""

    group: Id
    bolts: list[int]
    reason: Reason
    note_text: Text | None = None


@command(
    "torque.undo",
    "/groups/{group}/undo",
    act="report",
    sent="now",
    refusals=("changed_since", "nothing_to_undo"),
)
class UndoGroup(Command):
    """A signed bolt group was undone (R26)."""

    group: Id
    reason: Reason
    note_text: Text | None = None
    list_digest: Digest


@command("torque.report_loosened", "/groups/{group}/loosened", act="report", who=CREW)
class ReportLoosened(Command):
    """Somebody undid fasteners of a group; the kept form of undoing, for a phone without connection (R26)."""

    group: Id
    bolts: list[int]
    reason: Reason = "other"
