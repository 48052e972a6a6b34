"""What the plan of the days knows of a task's parts: there, given by another task, expected on a day, or not known. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from yokemate.rules.days_frame import Frame
from yokemate.rules.frame import State
from yokemate.rules.hours import moment, zone_of
from yokemate.rules.rows import Build, Part, Task


def lacking_parts(state: State, task: Task) -> list[Part]:
    """Parts of a task that are not on the shelf and that nobody said they have."""
    rows = [(use, state.find(Part, use.part)) for use in task.plan.uses]
    return [
        row
        for use, row in rows
        if row is not None
        and row.in_stock < use.count
        and not task.have_parts.get(use.part)
        and use.part not in task.used_up
    ]


def expected_parts(state: State, task: Task, at: Frame) -> list[tuple[int, str]]:
    """Those that are lacking and have a day: its first slot, and the part."""
    zone = zone_of(state.get(Build, "build").time_zone)
    return [
        (at.slot(moment(date.fromisoformat(part.expected_on), 0, zone)), part.id)
        for part in lacking_parts(state, task)
        if part.expected_on is not None
    ]


def undated_parts(state: State, task: Task) -> tuple[str, ...]:
    """Those of which nobody knows when they come: no day was said, and no work ahead gives them. What work gave that is
    done is there, unless somebody looked for it in vain."""

    def unknown(part: Part) -> bool:
        states = [giver.state for giver in _givers(state, part.id)]
        if any(one in ("open", "taken") for one in states):
            return False
        return not states or task.have_parts.get(part.id) is False

    lacking = [part for part in lacking_parts(state, task) if part.expected_on is None]
    return tuple(part.id for part in lacking if unknown(part))


def given_by(state: State, task: Task, due: Mapping[str, Task]) -> Iterator[str]:
    """Tasks ahead that give what is lacking, such as taking it off the donor; none that waits for this one itself."""
    for part in lacking_parts(state, task):
        for giver in _givers(state, part.id) if part.expected_on is None else ():
            if giver.id in due and task.id not in _all_before(state, giver):
                yield giver.id


def _givers(state: State, part: str) -> list[Task]:
    found = [task for task in state.all(Task) if part in task.plan.gives and task.state != "left_out"]
    return sorted(found, key=lambda task: task.order)


def _all_before(state: State, task: Task) -> set[str]:
    """The task and everything that the plan wants before it, all the way back."""
    found: set[str] = set()
    left = [task.id]
    while left:
        name = left.pop()
        row = state.find(Task, name)
        if row is not None and name not in found:
            found.add(name)
            left += [after.task for after in row.plan.after]
    return found
