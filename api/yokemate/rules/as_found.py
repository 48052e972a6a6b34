"""Faces and threads as found: somebody looks once in each round, on the first pass of a critical group."""

from __future__ import annotations

from yokemate.rules.frame import State
from yokemate.rules.rows.torque import Group, Reading


def as_found_wanted(state: State, group: Group) -> bool:
    """Whether nobody has said yet how faces and threads of a critical group were found in this round."""
    return group.plan.critical and not any(_said(group, reading) for reading in state.all(Reading))


def _said(group: Group, reading: Reading) -> bool:
    """What was read before the last undo and handed over after it says nothing of how things are now."""
    return (
        (reading.group, reading.round) == (group.id, group.round)
        and reading.faces is not None
        and reading.threads is not None
        and reading.why_not != "undone_since"
    )
