"""Loose ends, gates, and proposals that wait for a second person."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from yokemate.planfile.model import GatePlan
from yokemate.rules.frame import Row
from yokemate.rules.rows.crew import Pair

LooseKind = Literal[
    "run_in", "snugged", "loosened", "unplugged", "opened", "propped", "borrowed", "drained", "undone",
    "dropped", "left_in", "landed_elsewhere", "other",
]  # fmt: skip


class LooseEnd(Row):
    """Something to be made good; `restores_...` name the task and step that do it, where planned."""

    KIND: ClassVar[str] = "loose_end"
    what: str  # plan text, or a ready-made phrase; free words are in `note` (payload)
    kind: LooseKind
    where: str | None = None
    zone: str | None = None
    gate: str | None = None
    note: str | None = None  # payload id
    photo: str | None = None
    plan_id: str | None = None
    group: str | None = None
    task: str | None = None  # in which task it was opened
    restores_task: str | None = None
    restores_step: str | None = None
    opened_by: str
    opened_ms: int
    closed: Pair | None = None
    closed_photo: str | None = None
    closed_how: Literal["put_back", "final", "made_good", "another_way"] | None = None


class Gate(Row):
    KIND: ClassVar[str] = "gate"
    plan: GatePlan
    order: int
    wanted_on: str | None = None  # ISO date by which the lead wants it
    state: Literal["shut", "open"] = "shut"
    opened_ms: int | None = None
    opened_by: list[str] = []  # two people
    shut_ms: int | None = None
    shut_why: list[str] = []  # "kind:about" of each condition that became false
    stop_engine: bool = False  # it shut, or was shut, while the engine may be running (R25)


class Proposal(Row):
    """One *proposes*, another *seconds*. Lapses when what it names changes; a gate's after ten minutes."""

    KIND: ClassVar[str] = "proposal"
    what: Literal["open_gate", "put_right", "lift_tag"]
    about: str  # id of the gate, loose end or tag
    by: str
    at_ms: int
    until_ms: int | None = None
    reason: str | None = None  # payload id
    confirmed: list[str] = []  # on-the-day conditions said to be true
    seen: dict[str, Any] = {}  # what it named, so that a change lapses it
    state: Literal["waiting", "seconded", "lapsed", "withdrawn"] = "waiting"
    second: Pair | None = None
