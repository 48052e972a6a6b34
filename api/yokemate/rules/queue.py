"""In which order work is offered: what holds up most first (R5 to R8). Pure; linear in the size of the plan."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from yokemate.rules.frame import State
from yokemate.rules.rows import DaysPlan, Gate, Lift, Task

_FINISHED = ("closed", "left_out")


@dataclass(frozen=True)
class Weight:
    """How much hangs on a task: the next shut gate it leads to, and the likely minutes from its start to that gate."""

    gate: str | None
    gate_order: int
    tail_minutes: int
    followers: int
    lift: str | None  # a called lift that waits for it
    planned: tuple[int, str] | None = (
        None  # the next lift in the plan of the days that waits for it: when [ms], which
    )


def remaining(state: State) -> list[Task]:
    return sorted((t for t in state.all(Task) if t.state not in _FINISHED), key=lambda t: t.order)


def weights(state: State) -> dict[str, Weight]:
    """The weight of every task that is not finished."""
    tasks = {task.id: task for task in remaining(state)}
    followers: dict[str, list[str]] = defaultdict(list)
    for task in tasks.values():
        for before in task.plan.after:
            if before.task in tasks:
                followers[before.task].append(task.id)
    order = _from_the_end(tasks, followers)
    lifts = {
        lift.task: lift.id for lift in state.all(Lift) if lift.state in ("called", "crewed") and lift.task
    }
    planned = _planned_lifts(state)
    gates = [g for g in sorted(state.all(Gate), key=lambda g: g.order) if g.state != "open"]
    wanted: dict[str, tuple[int, str]] = {}
    for gate in reversed(gates):
        for condition in gate.plan.standing:
            if condition.task_closed is not None:
                wanted[condition.task_closed] = (gate.order, gate.id)
    found: dict[str, Weight] = {}
    for id in order:
        behind = [found[f] for f in followers[id]]
        own = wanted.get(id)
        reach = [(w.gate_order, w.gate) for w in behind if w.gate is not None] + ([own] if own else [])
        nearest: tuple[int, str | None] = (
            min(reach, key=lambda r: r[0]) if reach else (len(gates) + 1_000, None)
        )
        longest = max((w.tail_minutes for w in behind if w.gate == nearest[1]), default=0)
        lift = lifts.get(id) or next((w.lift for w in behind if w.lift), None)
        coming = [there for f in followers[id] for there in (planned.get(f), found[f].planned) if there]
        found[id] = Weight(
            nearest[1], nearest[0], tasks[id].plan.minutes[1] + longest, len(followers[id]), lift,
            min(coming, default=None),
        )  # fmt: skip
    return found


def _planned_lifts(state: State) -> dict[str, tuple[int, str]]:
    """By task: when its lift stands in the plan of the days that was taken, as long as it is not called."""
    plan = state.find(DaysPlan, "days")
    if plan is None:
        return {}
    when = {block.task: block.from_ms for block in plan.blocks if not block.check}
    return {
        lift.task: (when[lift.task], lift.id)
        for lift in state.all(Lift)
        if lift.task in when and lift.state in ("drafted", "stood_down")
    }


def _from_the_end(tasks: dict[str, Task], followers: dict[str, list[str]]) -> list[str]:
    """Every task after all its followers. Loading a plan refuses cycles, so this always ends."""
    left = {id: len(followers[id]) for id in tasks}
    ready = [id for id, count in left.items() if count == 0]
    order: list[str] = []
    while ready:
        id = ready.pop()
        order.append(id)
        for after in tasks[id].plan.after:
            if after.task in left:
                left[after.task] -= 1
                if left[after.task] == 0:
                    ready.append(after.task)
    return order


def rank(task: Task, weight: Weight, *, suits: bool, zone: str | None) -> tuple[int, int, int, int, int, int]:
    """Smaller comes first: a called lift, the nearest gate, the longest way to it, what suits me, where I am."""
    return (
        0 if weight.lift else 1, weight.gate_order, -weight.tail_minutes, 0 if suits else 1,
        0 if task.plan.zone == zone else 1, task.order,
    )  # fmt: skip
