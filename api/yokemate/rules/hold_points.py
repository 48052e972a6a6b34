"""Hold points: which are due, and what comes before one (R5). One stands at a *hold* step, or at the end of a task."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from yokemate.planfile.model import Step
from yokemate.rules.frame import State
from yokemate.rules.rows import Deviation, Task
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
            waiting = (s for s in task.plan.steps if _holds(state, task, s))
            step = next(waiting, None)
            if step is not None and open_before(state, task, step) is None:
                found.append(HoldDue(task, step))
        elif task.state == "done" and task.plan.hold_point and END not in task.holds:
            found.append(HoldDue(task, None))
    return found


def open_before(state: State, task: Task, step: Step) -> Step | None:
    """The first step before it that is not done."""
    return next((one for one in _earlier(task, step) if not step_is_done(state, task, one)), None)


def held_by(state: State, task: Task, step: Step) -> Step | None:
    """The unsigned hold step before it, which holds all that comes behind."""
    return next((one for one in _earlier(task, step) if _holds(state, task, one)), None)


def _holds(state: State, task: Task, step: Step) -> bool:
    """Unsigned, and not left out either: that frees what is behind it once somebody else has accepted it, for whoever
    works behind a hold point is the last who may wave it through (R5, R9).
    """
    return (
        step.kind == "hold"
        and step.id not in task.holds
        and not (_left_out(task, step) and _accepted(state, task, step))
    )


def _left_out(task: Task, step: Step) -> bool:
    tick = task.ticks.get(step.id)
    return tick is not None and tick.left_out


def _accepted(state: State, task: Task, step: Step) -> bool:
    about = (
        one for one in state.all(Deviation) if (one.task, one.step) == (task.id, step.id) and one.leave_out
    )
    return any(one.state == "accepted" for one in about)


def signed_after(task: Task, step: Step) -> list[str]:
    """Signed hold steps that rest on this one: those behind it, and itself."""
    rest = itertools.dropwhile(lambda one: one.id != step.id, task.plan.steps)
    return [one.id for one in rest if one.id in task.holds]


def step_is_done(state: State, task: Task, step: Step) -> bool:
    """Ticked, or done by itself because its bolts are."""
    if step.kind == "hold":
        return step.id in task.holds or _left_out(task, step)
    return step.id in task.ticks or (
        step.kind in ("run_in", "snug", "tighten") and group_step_done(state, step)
    )


def worked_on(task: Task) -> set[str]:
    """Who may not sign it: everybody who worked on it since it was last undone, and who is on it now."""
    return {*task.worked, *people_on(task)}


def _earlier(task: Task, step: Step) -> list[Step]:
    return list(itertools.takewhile(lambda one: one.id != step.id, task.plan.steps))
