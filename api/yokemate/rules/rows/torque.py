"""Bolt groups, readings, checks, countersigns. Values are kept as typed (R16)."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from yokemate.planfile.model import BoltGroupPlan, CheckMethod, TorqueSpec, TorqueUnit
from yokemate.rules.frame import Row, RowPart


class Window(RowPart):
    """What is accepted for one torque wrench at the fastener, as exact decimal strings in its own unit.

    Written by `decide` (it calls `calc`), never worked out when applied.
    """

    unit: TorqueUnit
    target: str
    low: str
    high: str


class Bolt(RowPart):
    """One fastener of a group. `passes`: the reading that counts, per pass."""

    n: int
    run_in: bool = False
    snug: bool = False
    passes: dict[str, str] = {}  # pass number "1".. -> reading id that counts
    final: bool = False
    outside: bool = False  # its last reading of a pass that is held to a tolerance was outside (R12)
    needs_new: bool = False  # single-use and undone: a new one must be fitted (R15)
    fitted_new: int = 0
    undone_ms: int = 0  # when it was last undone: a reading taken before does not count


class Group(Row):
    KIND: ClassVar[str] = "group"
    plan: BoltGroupPlan
    spec: TorqueSpec
    tolerance: tuple[str, str]  # minus, plus, in the spec's unit, resolved (build default where none)
    tolerance_is_default: bool
    order: list[int]  # tightening order, worked out by `decide` at loading
    passes: int  # number of passes, those that turn among them; the last is the final pass
    bolts: list[Bolt]
    state: Literal["untouched", "run_in", "snug", "started", "final", "undone"] = "untouched"
    round: int = 0  # how often it was undone; readings carry it
    touched: list[str] = []  # who took or helped with any reading, run-in or task on it in this round (R13)
    final_pass_from: int = 0  # ms; last-pass readings taken before an interruption don't count (R10)
    readings_digest: str = ""  # over the readings that count; the countersign echoes it (R13, R14)
    countersign: str | None = None  # id of the countersign in force
    check_asked_ms: int | None = None
    undone_by: str | None = None
    undone_ms: int | None = None
    left_out: bool = False


class Reading(Row):
    """One reading of one fastener. `counts` False keeps it with `why_not` (R11, R12, R17)."""

    KIND: ClassVar[str] = "reading"
    group: str
    round: int
    task: str | None
    bolt: int
    pass_no: int
    wrench: str | None  # None: a pass that only turns; no torque wrench measures it
    extension_mm: str | None = None
    extension_angle_deg: str | None = None
    drag: str | None = None  # prevailing torque measured, in `unit`
    set_value: str | None
    unit: TorqueUnit | None
    value: str | None  # as typed; None: clicked, or turned
    angle_deg: str | None = None  # turned on by, as typed, where the pass asks for a turn
    gap_mm: str | None = None  # measured, where the spec asks for a gap
    at_fastener: str | None = None  # decimal string with drag and extension taken in, spec's unit
    window: Window | None = None  # what was accepted on this torque wrench's scale, as set up
    calc: str = ""  # calculation and its version
    faces: str | None = None  # as found
    threads: str | None = None
    by: str
    helped: list[str] = []
    at_ms: int
    device_ms: int
    photo: str | None = None
    counts: bool = True
    why_not: str | None = None  # a code of `why_not.py`
    why_params: dict[str, Any] = {}  # what its sentence needs
    crossed_out_by: str | None = None  # person id, with when: typed wrong, undone, lapsed
    crossed_out_ms: int | None = None
    crossed_out_why: str | None = None
    replaces: str | None = None


class BoltCheck(RowPart):
    n: int
    found: Literal["holds", "moved"]
    how: CheckMethod
    value: str | None = None  # a check value is not a reading
    unit: TorqueUnit | None = None


class Check(Row):
    """What a second person found on one group, PIN due until a countersign takes it up."""

    KIND: ClassVar[str] = "check"
    group: str
    round: int
    by: str
    at_ms: int
    readings_digest: str
    bolts: list[BoltCheck]
    # still_holds: a re-check that found no movement; no PIN is wanted
    state: Literal["pin_due", "signed", "sent_back", "lapsed", "still_holds"]
    reason: str | None = None


class Countersign(Row):
    """A second person's signature under the readings of one group (one row per group of a walk round)."""

    KIND: ClassVar[str] = "countersign"
    group: str
    round: int
    check: str
    walk: str  # id shared by the groups of one walk round
    by: str
    at_ms: int
    readings_digest: str
    open_network: bool = False
    lapsed_ms: int | None = None
    lapsed_why: str | None = None
    lapsed_by: str | None = None
