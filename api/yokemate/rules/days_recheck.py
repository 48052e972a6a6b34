"""Whether a plan that was worked out a while ago still keeps every rule, when it is taken. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from yokemate.planning.check import check
from yokemate.planning.problem import Problem, Schedule
from yokemate.rules.days_blocks import schedule_of
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_problem import problem
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours
from yokemate.rules.rows.days import Block

# What work that went on since brings with it is no reason: something is done, in hand, or has new minutes.
_OF_WORK_THAT_GOES_ON = {"missing", "unknown", "fixed", "length", "part", "double_booked", "asked"}


def no_longer(
    state: State, hours: Mapping[str, Hours], now_ms: int, blocks: list[dict[str, Any]]
) -> list[str]:
    """Work ahead of which the checker finds that it can't be where the plan has it: its ids, checks as `days_problem` names
    them. Somebody can't come any more, a part comes later, a hazard or a countersign is in the way."""
    asked = problem(state, hours, now_ms)
    known = {task.id for task in asked.tasks}
    schedule = schedule_of([Block.model_validate(one) for one in blocks], known, frame_at(state, now_ms))
    settled = {task.id for task in asked.tasks if task.fixed is not None}
    begun = {stint.task for stint in schedule.stints if stint.start < asked.now}
    found = [
        one.task
        for one in check(asked, schedule)
        if one.code not in _OF_WORK_THAT_GOES_ON and one.task not in settled | begun
    ]
    return list(dict.fromkeys([*_at_another_hour(asked, schedule), *found]))


def _at_another_hour(asked: Problem, schedule: Schedule) -> list[str]:
    """Lifts that were called since, for another time than the plan has them. Who comes is theirs to answer still."""
    called = {task.id: task.fixed.start for task in asked.tasks if task.lift and task.fixed is not None}
    return [s.task for s in schedule.stints if s.task in called and s.start != called[s.task]]
