"""The plan as the chosen options leave it (R5): work whose condition does not hold is out, its place is bridged."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from yokemate.planfile.model import After, GatePlan, Plan, Standing, TaskPlan


def holds(task: TaskPlan, chosen: Mapping[str, str]) -> bool:
    """Whether the chosen options keep this task."""
    return all(chosen.get(option) == choice for option, choice in task.when.items())


def plan_for(plan: Plan, chosen: Mapping[str, str]) -> Plan:
    """`plan` without the tasks that fall away. `chosen`: option -> choice; an option left out has its default.

    A follower of a task that falls away waits for that task's own predecessors instead; a lag on the way stays.
    Conditions and guards of gates that name a task which fell away go with it.
    """
    in_force = {option.id: option.default for option in plan.options} | dict(chosen)
    out = {task.id: task for task in plan.tasks if not holds(task, in_force)}
    if not out:
        return plan
    tasks = [
        task.model_copy(update={"after": _bridged(task.after, out)})
        for task in plan.tasks
        if task.id not in out
    ]
    return plan.model_copy(
        update={"tasks": tasks, "gates": [_gate_without(gate, out) for gate in plan.gates]}
    )


def _bridged(after: list[After], out: Mapping[str, TaskPlan]) -> list[After]:
    kept: dict[str, After] = {}
    waiting, seen = list(reversed(after)), set[str]()
    while waiting:
        one = waiting.pop()
        if one.task not in out:
            kept[one.task] = _stricter(kept.get(one.task, one), one)
        elif one.task not in seen:  # a loop among tasks that fell away ends here
            seen.add(one.task)
            waiting += reversed(out[one.task].after)
    return list(kept.values())


def _stricter(one: After, other: After) -> After:
    """Where two ways lead to the same predecessor the longer lag counts, and touching it if either does."""
    lags = [lag for lag in (one.lag, other.lag) if lag is not None]
    touches = True if True in (one.touches, other.touches) else one.touches
    lag = max(lags, key=lambda lag: Fraction(lag.hours), default=None)
    return one.model_copy(update={"lag": lag, "touches": touches})


def _gate_without(gate: GatePlan, out: Mapping[str, TaskPlan]) -> GatePlan:
    standing = [s for s in gate.standing if not _names(s) & out.keys()]
    return gate.model_copy(update={"standing": standing, "guards": [g for g in gate.guards if g not in out]})


def _names(standing: Standing) -> set[str]:
    return {task for task in (standing.task_closed, standing.lag_over) if task is not None}
