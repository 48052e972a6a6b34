"""Who is under the car, and which isolator tags hang."""

from __future__ import annotations

from typing import ClassVar

from yokemate.rules.frame import Row


class Under(Row):
    """id = person id: "I'm under". The row goes when they say "I'm out"."""

    KIND: ClassVar[str] = "under"
    since_ms: int
    task: str | None = None


class Tag(Row):
    """An isolator tag: what it isolates stays off until its owner lifts the tag (R27)."""

    KIND: ClassVar[str] = "tag"
    what: str  # battery, other; free words where it was hung before these were payloads
    note: str | None = None  # payload id: what it isolates, in words
    owner: str
    since_ms: int
    lifted_ms: int | None = None
    lifted_by: list[str] = []
