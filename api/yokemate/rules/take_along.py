"""Which sockets to take to the car for a task's fasteners: a set, because heads of one thread differ."""

from __future__ import annotations

import re

from yokemate.calc.errors import CalcError
from yokemate.calc.sockets import Socket, socket_sizes
from yokemate.rules.frame import State
from yokemate.rules.rows import Group, Task

PLAIN = re.compile(r"M\d+(x[\d.]+)?|\d/\d( ?-\d+)?")  # not a tube nut, a banjo bolt, a clamp


def threads_of(state: State, task: Task) -> list[str]:
    """The threads of the groups that the task's steps name, each once, in the order of the steps."""
    groups = [state.find(Group, step.group) for step in task.plan.steps if step.group]
    return list(dict.fromkeys(group.spec.thread for group in groups if group is not None))


def sockets_for(thread: str) -> tuple[Socket, ...]:
    """The sockets that may fit; none where the table has no such thread, or it is no plain hexagon: measure."""
    if not PLAIN.fullmatch(thread):
        return ()
    try:
        return socket_sizes(thread)
    except CalcError:
        return ()
