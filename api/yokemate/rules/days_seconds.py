"""Who looks at what others did, and signs: at a hold step, or for all of a task at its end (R5, R13). Pure."""

from __future__ import annotations

from dataclasses import replace

from yokemate.planning import problem as p
from yokemate.rules.days_frame import SLOT_MIN, slots
from yokemate.rules.days_pieces import CHECK, Piece, holds_left, pauses, piece_id, pieces
from yokemate.rules.days_settled import crew
from yokemate.rules.frame import State
from yokemate.rules.hazard_pairs import NEVER_ALONE
from yokemate.rules.hold_points import holds_due
from yokemate.rules.rows import Group, Task
from yokemate.rules.second_person import touchers

CHECK_MIN = 10  # a countersign of one group; common practice
SOON_MIN = 120  # and it comes soon after the torque
COUNTERSIGN = "may_countersign"


def critical_groups(state: State, task: Task) -> list[Group]:
    """The critical groups that a task tightens, each once."""
    ids = sorted({step.group for step in task.plan.steps if step.kind == "tighten" and step.group})
    return [group for id in ids if (group := state.find(Group, id)) is not None and group.plan.critical]


def unsigned_groups(state: State, task: Task) -> list[Group]:
    return [group for group in critical_groups(state, task) if group.countersign is None]


# What whoever looks at the bolts stands in; jacking, cranking and the like are over by then.
_STANDS_IN = frozenset(("under_car", "wheels_off", "fuel_open", "springs", "engine_running"))


def check_wanted(state: State, task: Task) -> int:
    """How many things somebody independent has still to sign when the work is over: critical groups, the hold point of a task
    (R5, R13), and the hold steps at which it does not pause."""
    due = len(unsigned_groups(state, task)) + len(holds_left(task)) - len(pauses(task))
    return due + (1 if task.plan.hold_point and "end" not in task.holds else 0)


def at_it(state: State, task: Task, hold: str | None = None) -> set[str]:
    """Who may not check it: they worked on it, or touched one of its critical groups in whichever task (R5, R13); of a hold
    step those who worked on it."""
    if hold is not None:
        return set(task.worked)
    return set(task.worked).union(*(touchers(state, group) for group in critical_groups(state, task)))


def _seconds(state: State) -> set[str]:
    return {m.id for m in crew(state) if m.may_countersign and m.minor is None}


def _work_ids(state: State, task: Task) -> list[str]:
    return [piece_id(task.id, False, one.hold) for one in pieces(state, task) if isinstance(one, Piece)]


def _by_second(task: Task, id: str, count: int, eligible: set[str], works: list[str]) -> p.Task:
    """Whoever signs stands where the work was done (R27, R28)."""
    hazards = frozenset(task.plan.hazards) & _STANDS_IN
    return p.Task(
        id=id,
        duration=slots(CHECK_MIN * count),
        needs=(p.Need(COUNTERSIGN),),
        eligible=frozenset(eligible),
        independent_of=tuple(works),
        zone=task.plan.zone,
        hazards=hazards,
        present=2 if hazards & NEVER_ALONE else 1,
    )


def signature(state: State, task: Task, step: str) -> p.Task:
    """At a hold step, by somebody who does nothing of the task (R5)."""
    id = piece_id(task.id, True, step)
    return _by_second(task, id, 1, _seconds(state) - at_it(state, task, step), _work_ids(state, task))


def check(state: State, task: Task, count: int, due: dict[str, Task]) -> p.Task:
    """Whoever signs has touched none of its groups, in whichever task (R13)."""
    names = {group.id for group in critical_groups(state, task)}
    works = [
        id
        for t in due.values()
        if t.id == task.id or any(s.group in names for s in t.plan.steps if s.group)
        for id in _work_ids(state, t)
    ]
    one = _by_second(task, task.id + CHECK, count, _seconds(state) - at_it(state, task), works)
    if task.id not in due or _held_now(state, task):
        return one
    return replace(one, after=(p.After(task.id, soon=SOON_MIN // SLOT_MIN),))


def _held_now(state: State, task: Task) -> bool:
    """Work of a lift that stands at a hold step, and nothing else of it wants a signature: somebody is asked to come at once."""
    if pauses(task) or unsigned_groups(state, task) or task.plan.hold_point or len(holds_left(task)) != 1:
        return False
    return any(one.task.id == task.id for one in holds_due(state))
