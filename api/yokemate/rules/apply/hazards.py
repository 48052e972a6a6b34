"""Who is under the car, and isolator tags (R27)."""

from __future__ import annotations

from typing import Any

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows import Tag, Under


@applies("hazard.went_under")
def went_under(draft: Draft, at: At, *, task: str | None, beside: list[dict[str, Any]]) -> None:
    """`beside`: what runs beside it, as it was when they said so."""
    draft.put(Under(id=at.by, since_ms=at.at_ms, task=task))


@applies("hazard.came_out")
def came_out(draft: Draft, at: At, *, person: str) -> None:
    draft.drop(Under, person)


@applies("hazard.tag_hung")
def tag_hung(
    draft: Draft, at: At, *, tag: str, what: str, beside: list[dict[str, Any]], note: str | None = None
) -> None:
    draft.put(Tag(id=tag, what=what, note=note, owner=at.by, since_ms=at.at_ms))


@applies("hazard.tag_lifted")
def tag_lifted(draft: Draft, at: At, *, tag: str, people: list[str]) -> None:
    draft.change(Tag, tag, lifted_ms=at.at_ms, lifted_by=people)
