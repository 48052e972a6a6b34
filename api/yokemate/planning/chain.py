"""Which tasks carry the finish of a plan."""

from __future__ import annotations

from yokemate.planning.jobs import ends_of
from yokemate.planning.problem import Problem, Schedule, Task


def chain_of(problem: Problem, schedule: Schedule) -> list[str]:
    """The tasks that carry the finish: from the last one back to whatever ended latest of what it waited for.

    What it waited for: what comes before by the plan, the same person's work before, a tool's of which there are too few
    for both. A reading of the
    plan as it stands, for marking it; not a proof that no other order would be shorter.
    """
    if not schedule.stints:
        return []
    tasks = {task.id: task for task in problem.tasks}
    ends = ends_of(schedule)
    lags = {(task.id, after.task): after.lag for task in problem.tasks for after in task.after}
    last = max(schedule.stints, key=lambda s: (s.end, s.task))
    chain = [last.task]
    first = last
    while True:
        before = [
            other
            for other in schedule.stints
            if other.task not in chain
            and other.end <= first.start
            and (
                (first.task, other.task) in lags
                or set(other.team) & set(first.team)
                or _too_few(problem, tasks[other.task], tasks[first.task])
            )
        ]
        if not before:
            break
        first = max(before, key=lambda s: (ends[s.task] + lags.get((first.task, s.task), 0), s.end, s.task))
        chain.append(first.task)
        if first.start <= problem.now:
            break
    return chain[::-1]


def _too_few(problem: Problem, one: Task, other: Task) -> bool:
    held = {use.tool: use.count for use in one.tools}
    return any(
        held.get(u.tool, 0) + u.count > problem.tools.get(u.tool, 0) for u in other.tools if u.tool in held
    )
