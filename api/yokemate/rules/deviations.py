"""Who may accept what was done differently: somebody who did not do it (R9). The rule lives in this file alone."""

from __future__ import annotations

from yokemate.planfile.model import Step
from yokemate.rules.commands.notes import AcceptDeviation
from yokemate.rules.frame import State
from yokemate.rules.gatekeeper import role_refuses
from yokemate.rules.hold_points import worked_on
from yokemate.rules.presence import came_last
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Deviation, Group, Member, Task
from yokemate.rules.second_person import touchers


def did_it(state: State, deviation: Deviation) -> set[str]:
    """Whoever proposed it, worked on its task, read or helped on its bolt group. A reading may have no task."""
    task = state.find(Task, deviation.task)
    group = state.find(Group, deviation.group) if deviation.group is not None else None
    worked = worked_on(task) if task is not None else set()
    return {deviation.by, *worked, *(touchers(state, group) if group is not None else ())}


def who_may_accept(state: State, deviation: Deviation, now_ms: int) -> list[str]:
    """Leads and deputies of the day who did not do it and have not accepted it yet, whoever came last first."""
    out = did_it(state, deviation) | {pair.by for pair in deviation.accepted}
    there = [m for m in state.all(Member) if m.id not in out]
    may = [m for m in there if role_refuses(state, AcceptDeviation.SPEC, m.id, now_ms) is None]
    return [m.id for m in sorted(may, key=came_last)]


def left_out_unaccepted(state: State, task: Task, hold: Step, now_ms: int) -> Refused | None:
    """The hold step was left out, and waits for a yes before anything goes on behind it (R5, R9)."""
    about = (
        one for one in state.all(Deviation) if (one.task, one.step) == (task.id, hold.id) and one.leave_out
    )
    waits = next((one for one in about if one.state == "waiting"), None)
    if waits is None or hold.id not in task.ticks:
        return None
    number = task.plan.steps.index(hold) + 1
    return Refused("hold_left_out", number=number, ask_people=who_may_accept(state, waits, now_ms)[:3])


def waiting_for(state: State, person: str, now_ms: int) -> list[Deviation]:
    """What waits for this person's yes, oldest first."""
    if role_refuses(state, AcceptDeviation.SPEC, person, now_ms) is not None:
        return []
    waiting = [one for one in state.all(Deviation) if one.state == "waiting"]
    mine = [one for one in waiting if person in who_may_accept(state, one, now_ms)]
    return sorted(mine, key=lambda one: (one.at_ms, one.id))
