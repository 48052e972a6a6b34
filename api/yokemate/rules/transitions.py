"""States of a task and what may be asked in them. A missing pair is a refusal (`not_in_state`); reports are never here,
nor what is only for those who are on the task: they are told that they are not (`not_on_it`).

Waiting and ready are both *open*: which of the two is worked out from other rows and the clock (`availability`).
"""

from __future__ import annotations

from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Task
from yokemate.rules.rows.tasks import TaskState

ALLOWED: dict[str, frozenset[TaskState]] = {
    "task.take": frozenset(("open",)),
    "task.take_over": frozenset(("taken",)),
    "task.tick": frozenset(("taken",)),
    "task.untick": frozenset(("taken",)),
    "task.confirm_side": frozenset(("taken",)),
    "task.pass_on": frozenset(("taken",)),
    "task.sign_off": frozenset(("taken",)),
    "task.sign_hold": frozenset(("taken", "done")),
}
WORDS: dict[TaskState, str] = {
    "open": "not taken", "taken": "taken", "done": "done", "closed": "closed", "left_out": "left out",
}  # fmt: skip


def need_state(task: Task, kind: str) -> None:
    if task.state not in ALLOWED[kind]:
        raise Refused("not_in_state", what=task.id, state=WORDS[task.state], remedy="Look at the task again.")
