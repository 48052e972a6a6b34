"""What a gate still wants: standing conditions, loose ends, work built on undone work (R23, R25, R26).

Standing conditions close an open gate again when one becomes false. Marks of *built on undone work* hold a
gate that is shut, and never shut one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from yokemate.planfile.model import Standing
from yokemate.rules.frame import State
from yokemate.rules.rows import Build, Gate, Group, LooseEnd, Task
from yokemate.rules.tightening import steps_of

WantKind = Literal["task_open", "loose_end", "gate_shut", "check_missing", "lag", "built_on_undone"]
ENGINE_GATES = ("first_crank", "first_start", "first_drive")


@dataclass(frozen=True)
class Want:
    """One condition that is not true: its kind, the id it is about, what a screen needs to say it."""

    kind: WantKind
    about: str
    params: dict[str, Any] = field(default_factory=dict)

    @property
    def key(self) -> str:
        return f"{self.kind}:{self.about}"


def gates_in_order(state: State) -> list[Gate]:
    return sorted(state.all(Gate), key=lambda gate: (gate.order, gate.id))


def standing(state: State, gate: Gate, now_ms: int) -> list[Want]:
    """The standing conditions of a gate that are not true now, each once, in the order of the plan."""
    wants = list(_loose_ends(state, gate))
    for condition in gate.plan.standing:
        wants += _condition(state, condition, now_ms)
    return list({want.key: want for want in wants}.values())


def wants_to_open(state: State, gate: Gate, now_ms: int) -> list[Want]:
    """What is missing before two people may open it."""
    return standing(state, gate, now_ms) + _built_on_undone(state)


def _loose_ends(state: State, gate: Gate) -> Iterator[Want]:
    """Open ones that belong to this gate or to an earlier one."""
    order = {g.id: g.order for g in state.all(Gate)}
    for end in sorted(state.all(LooseEnd), key=lambda e: (e.opened_ms, e.id)):
        if end.closed is None and end.gate is not None and order.get(end.gate, gate.order + 1) <= gate.order:
            yield Want("loose_end", end.id, {"what": end.what, "task": end.restores_task})


def _condition(state: State, condition: Standing, now_ms: int) -> list[Want]:
    if condition.task_closed is not None:
        return _task_closed(state, condition.task_closed)
    if condition.gate_open is not None:
        gate = state.find(Gate, condition.gate_open)
        shut = gate is not None and gate.state == "shut"
        return [Want("gate_shut", gate.id, {"name": gate.plan.name})] if gate is not None and shut else []
    if condition.critical_groups_signed:
        return unsigned_groups(state)
    if condition.lag_over is not None:
        return _lag(state, condition.lag_over, now_ms)
    return []  # loose_ends_closed holds for every gate


def _task_closed(state: State, task_id: str) -> list[Want]:
    task = state.find(Task, task_id)
    if task is None or task.state in ("closed", "left_out"):
        return []
    return [
        Want(
            "task_open",
            task.id,
            {"title": task.plan.title, "state": task.state, "holder_person": task.holder},
        )
    ]


def unsigned_groups(state: State) -> list[Want]:
    """Critical groups without a countersign in force, of tasks done or closed so far, or undone since."""
    wants = []
    for group in sorted(state.all(Group), key=lambda g: g.id):
        if (
            group.left_out
            or not (group.plan.critical or group.plan.countersign)
            or group.countersign is not None
        ):
            continue
        tasks = [task for task, _ in steps_of(state, group.id, "tighten")]
        if group.round > 0 or any(task.state in ("done", "closed") for task in tasks):
            params = {"name": group.plan.name, "task": tasks[0].id if tasks else None, "state": group.state}
            wants.append(Want("check_missing", group.id, params))
    return wants


def lag_over_ms(state: State, task: Task) -> int | None:
    """When the longest lag after a task has passed; None while the task is not done."""
    since = task.done_at_ms or task.closed_at_ms
    if since is None or task.state not in ("done", "closed"):
        return None
    lags = [task.plan.lag_after] + [
        after.lag for other in state.all(Task) for after in other.plan.after if after.task == task.id
    ]
    hours = max((Fraction(lag.hours) for lag in lags if lag is not None), default=Fraction(0))
    return since + int(hours * 3_600_000)


def _lag(state: State, task_id: str, now_ms: int) -> list[Want]:
    task = state.find(Task, task_id)
    if task is None or task.state == "left_out":
        return []
    over_ms = lag_over_ms(state, task)
    if over_ms is not None and over_ms <= now_ms:
        return []
    return [Want("lag", task.id, {"title": task.plan.title, "until_ms": over_ms})]


def _built_on_undone(state: State) -> list[Want]:
    return [
        Want("built_on_undone", task.id, {"title": task.plan.title, "tasks": list(task.built_on_undone)})
        for task in sorted(state.all(Task), key=lambda t: t.order)
        if task.built_on_undone and task.state != "left_out"
    ]


def engine_may_run(state: State) -> bool:
    """Somebody said that it runs, or work is on that makes it run (R25)."""
    build = state.find(Build, "build")
    if build is not None and build.engine == "running":
        return True
    return any(
        task.state == "taken" and {"cranking", "engine_running"} & set(task.plan.hazards)
        for task in state.all(Task)
    )
