"""Which sockets to take to the car for a task's fasteners: a set, because heads of one thread differ."""

from __future__ import annotations

import re

from yokemate.calc.errors import CalcError
from yokemate.calc.sockets import Socket, socket_sizes
from yokemate.rules.frame import State
from yokemate.rules.rows import Group, Task

# A thread, then no more than its pitch, a length, its series or its hand: not a tube nut, a banjo bolt, a clamp.
_PLAIN = re.compile(r"(M[0-9]+|[0-9]+(?:/[0-9]+)?(?= *-))(?: *[xX×-] *[0-9.,]+)*(?: *(?:UNC|UNF|LH))*")


def threads_of(state: State, task: Task) -> list[str]:
    """The threads of the groups that the task's steps name, each once, in the order of the steps."""
    groups = [state.find(Group, step.group) for step in task.plan.steps if step.group]
    return list(dict.fromkeys(group.spec.thread for group in groups if group is not None))


def sockets_for(thread: str) -> tuple[Socket, ...]:
    """The sockets that may fit; none where the table has no such thread, or it is no plain hexagon: measure."""
    plain = _PLAIN.fullmatch(thread.strip())
    if plain is None:
        return ()
    try:
        return socket_sizes(plain[1])
    except CalcError:
        return ()
