"""What happens to a task from several sides: handed back, opened again. Every function here tells entries."""

from __future__ import annotations

from typing import Any

from yokemate.rules.decide.group_changes import interrupt_groups
from yokemate.rules.frame import Deciding
from yokemate.rules.rows import Task


def hand_back(d: Deciding, task: Task, how: str, reason: str | None, **more: Any) -> None:
    """Nobody has it any more; nothing recorded is lost, a final pass begun starts again (R10)."""
    interrupt_groups(d, task, how)
    left: dict[str, Any] = {
        "step": None,
        "loose": [],
        "note": None,
        "photo": None,
        "tag_on_car": False,
        **more,
    }
    d.tell("task.handed_back", task=task.id, how=how, reason=reason, **left)


def reopen_task(d: Deciding, task: Task, why: str) -> None:
    """Cross out the sign-off and hold points of a signed task; its ticks stay where the work is the same."""
    d.tell(
        "task.undone",
        task=task.id,
        state="left_out" if task.state == "left_out" else "open",
        ticks=sorted(step for step in task.holds if step in task.ticks),
        holds=sorted(task.holds),
        whole=False,
        reason=why,
        note=None,
    )
