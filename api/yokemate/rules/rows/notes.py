"""Deviations, snags, notes and kept evidence. Free words and photos are payload ids (R1)."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from yokemate.rules.frame import Row
from yokemate.rules.rows.crew import Pair


class Deviation(Row):
    """Done differently from the manual: manual says / we did / why (payloads), proposed and approved."""

    KIND: ClassVar[str] = "deviation"
    task: str
    step: str | None = None
    group: str | None = None
    critical: bool
    leave_out: bool = False  # the step is left out altogether
    manual_says: str  # payload id
    we_did: str
    why: str
    photo: str | None = None
    answer: str | None = None  # the maker's or an engineer's answer, payload id; needed on critical work
    by: str
    at_ms: int
    accepted: list[Pair] = []
    state: Literal["waiting", "accepted", "withdrawn"] = "waiting"


class Snag(Row):
    KIND: ClassVar[str] = "snag"
    what: str  # ready-made phrase or payload id
    note: str | None = None
    task: str | None = None
    group: str | None = None
    photo: str | None = None
    by: str
    at_ms: int
    put_right: Pair | None = None


class Note(Row):
    KIND: ClassVar[str] = "note"
    about_kind: str
    about: str
    text: str | None = None  # payload id
    photo: str | None = None
    by: str
    at_ms: int


class Evidence(Row):
    """What was typed with refused asks, kept beside the task it belongs to (R4). One row per bundle."""

    KIND: ClassVar[str] = "evidence"
    task: str | None = None
    by: str
    at_ms: int
    code: str  # why it was refused
    asks: list[dict[str, Any]]  # the refused commands as typed, free words as payload ids


class Withdrawal(Row):
    """A body that was withdrawn, by its payload id: phones forget what they keep of it at their next exchange (R1)."""

    KIND: ClassVar[str] = "withdrawal"
    reason: str
    by: str
    at_ms: int
