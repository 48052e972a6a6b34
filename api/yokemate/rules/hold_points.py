"""Hold points: which are due, and what comes before one (R5). One stands at a *hold* step, or at the end of a task."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from yokemate.planfile.model import Step
from yokemate.rules.frame import State
from yokemate.rules.rows import Task
from yokemate.rules.taking import people_on
from yokemate.rules.tightening import group_step_done

END = "end"


@dataclass(frozen=True)
class HoldDue:
    task: Task
    step: Step | None  # None: the end of the task


def holds_due(state: State) -> list[HoldDue]:
    """All that could be signed now: the work before them is done, in the order of the plan."""
    found = []
    for task in sorted(state.all(Task), key=lambda t: t.order):
        if task.state == "taken":
            waiting = (s for s in task.plan.steps if s.kind == "hold" and s.id not in task.holds)
            step = next(waiting, None)
            if step is not None and open_before(state, task, step) is None:
                found.append(HoldDue(task, step))
        elif task.state == "done" and task.plan.hold_point and END not in task.holds:
            found.append(HoldDue(task, None))
    return found


def open_before(state: State, task: Task, step: Step) -> Step | None:
    """The first step before it that is not done."""
    return next((one for one in _earlier(task, step) if not step_is_done(state, task, one)), None)


def held_by(task: Task, step: Step) -> Step | None:
    """The unsigned hold step before it, which holds all that comes behind."""
    earlier = _earlier(task, step)
    return next((one for one in earlier if one.kind == "hold" and one.id not in task.holds), None)


def signed_after(task: Task, step: Step) -> list[str]:
    """Signed hold steps that rest on this one: those behind it, and itself."""
    rest = itertools.dropwhile(lambda one: one.id != step.id, task.plan.steps)
    return [one.id for one in rest if one.id in task.holds]


def step_is_done(state: State, task: Task, step: Step) -> bool:
    """Ticked, or done by itself because its bolts are."""
    if step.kind == "hold":
        tick = task.ticks.get(step.id)
        return step.id in task.holds or (tick is not None and tick.left_out)
    return step.id in task.ticks or (
        step.kind in ("run_in", "snug", "tighten") and group_step_done(state, step)
    )


def worked_on(task: Task) -> set[str]:
    """Who may not sign it: everybody who worked on it since it was last undone, and who is on it now."""
    return {*task.worked, *people_on(task)}


def _earlier(task: Task, step: Step) -> list[Step]:
    return list(itertools.takewhile(lambda one: one.id != step.id, task.plan.steps))
