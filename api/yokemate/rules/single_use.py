"""Parts that are used once: which of them a task lacks, and which its sign-off uses up (R5)."""

from __future__ import annotations

from collections.abc import Iterator

from yokemate.planfile.model import Uses
from yokemate.rules.frame import State
from yokemate.rules.rows import Part, Task


def lacking_single_use(state: State, task: Task) -> list[Part]:
    """Those that are not on the shelf, that nobody said they have, and that are not in the car already."""
    return [
        part
        for use, part in to_use_up(state, task)
        if part.in_stock < use.count and not task.have_parts.get(part.id)
    ]


def to_use_up(state: State, task: Task) -> Iterator[tuple[Uses, Part]]:
    """What the next sign-off takes from the shelf: each once for work as it stands, however often it is signed."""
    for use in task.plan.uses:
        part = state.find(Part, use.part)
        if part is not None and part.plan.single_use and part.id not in task.used_up:
            yield use, part
