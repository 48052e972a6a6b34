"""What undoing changes on tasks: sign-offs are crossed out, ticks go, followers are marked (R26)."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.notes import Note
from yokemate.rules.rows.tasks import Task


@applies("task.undone")
def undone(
    draft: Draft,
    at: At,
    *,
    task: str,
    state: Literal["open", "taken", "left_out"],
    ticks: list[str],
    holds: list[str],
    whole: bool,
    reason: str,
    note: str | None,
) -> None:
    old = draft.get(Task, task)
    crossed = [*old.crossed_out, *([old.signed] if old.signed else []), *(old.holds[step] for step in holds)]
    fields: dict[str, Any] = {}
    if state != "taken":
        fields |= {"holder": None, "taken_at_ms": None, "mates": [], "help_wanted": False, "stuck": None}
    if whole:
        fields |= {"worked": [], "built_on_undone": [], "to_be_undone": False, "used_up": []}
    draft.change(
        Task,
        task,
        state=state,
        ticks={step: tick for step, tick in old.ticks.items() if step not in ticks},
        holds={step: pair for step, pair in old.holds.items() if step not in holds},
        signed=None,
        done_at_ms=None,
        closed_at_ms=None,
        undone=Pair(by=at.by, at_ms=at.at_ms),
        crossed_out=crossed,
        **fields,
    )


@applies("task.built_on_undone")
def built_on_undone(draft: Draft, at: At, *, task: str, on: str) -> None:
    old = draft.get(Task, task)
    draft.change(Task, task, built_on_undone=[*old.built_on_undone, on])


@applies("group.undo_noted")
def undo_noted(draft: Draft, at: At, *, id: str, group: str, text: str) -> None:
    draft.put(Note(id=id, about_kind="group", about=group, text=text, by=at.by, at_ms=at.at_ms))
