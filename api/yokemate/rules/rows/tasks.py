"""A task: its plan and how far it has come. *Waiting* and *ready* are not kept: they depend on the clock
and on other rows and are worked out when read (`rules/availability.py`)."""

from __future__ import annotations

from typing import ClassVar, Literal

from yokemate.planfile.model import TaskPlan
from yokemate.rules.frame import Row, RowPart
from yokemate.rules.rows.crew import Pair

TaskState = Literal["open", "taken", "done", "closed", "left_out"]


class Mate(RowPart):
    """Somebody who has joined a task beside its holder."""

    person: str
    learner: bool = False


class Tick(RowPart):
    """A step that is done, with the value where the step asks for one (kept as typed)."""

    by: str
    at_ms: int
    value: str | None = None
    unit: str | None = None
    left_out: bool = False  # left out with an accepted or pending deviation


class Measured(RowPart):
    """A value at a measure step, as typed. Outside its limits it is kept and makes nothing done (R9)."""

    value: str
    unit: str
    inside: bool
    by: str
    at_ms: int
    photo: str | None = None


class StuckMark(RowPart):
    by: str
    at_ms: int
    reason: str  # ready-made reason code
    note: str | None = None  # payload id
    photo: str | None = None


class Handover(RowPart):
    """Where the last person stopped: given back, going home, passed on."""

    by: str
    at_ms: int
    how: Literal["gave_back", "went_home", "passed_on", "released"]
    step: str | None = None
    loose: list[str] = []
    reason: str | None = None
    note: str | None = None  # payload id
    photo: str | None = None  # payload id
    tag_on_car: bool = False


class Task(Row):
    KIND: ClassVar[str] = "task"
    plan: TaskPlan
    order: int  # place in the plan file
    state: TaskState = "open"
    holder: str | None = None
    taken_at_ms: int | None = None
    mates: list[Mate] = []
    worked: list[str] = []  # everybody who took or joined it since it was last undone (R13)
    ticks: dict[str, Tick] = {}  # step id -> tick
    measures: dict[str, list[Measured]] = {}  # step id -> every value, the last one counts
    have_parts: dict[str, bool] = {}  # part id -> "have you got it?"
    used_up: list[str] = []  # single-use parts that its sign-off took from the shelf since it was last undone
    help_wanted: bool = False
    stuck: StuckMark | None = None
    handover: Handover | None = None
    holds: dict[str, Pair] = {}  # "end" or a hold step's id -> who signed the hold point
    signed: Pair | None = None  # the doer's sign-off
    closed_at_ms: int | None = None
    done_at_ms: int | None = None
    released: Pair | None = None  # released out of order by the lead
    released_reason: str | None = None
    undone: Pair | None = None  # last undone by
    built_on_undone: list[str] = []  # task ids undone beneath this one; the lead clears with a reason (R26)
    retired: bool = False  # left out because a later version of the plan has it no more
    to_be_undone: bool = False  # left out although it holds signed work
    crossed_out: list[Pair] = []  # sign-offs that no longer count
