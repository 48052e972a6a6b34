"""Find a time for one task: each day's first chance is planned through, and the three that cost the finish least stand."""

from __future__ import annotations

from dataclasses import replace

from yokemate.planning.figures import figures
from yokemate.planning.jobs import ends_of
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Fixed, Offer, Problem, Task


def windows_for(problem: Problem, task_id: str, count: int = 3, days_at_most: int = 30) -> list[Offer]:
    """The best times for a task, cheapest first, then soonest. Empty: no day will do; `why_not` says why.

    What must be over before is planned as early as it can be; each offer carries its whole plan, with the task fixed.
    At most `days_at_most` days are tried, one plan each. Raises KeyError for a task that is not there.
    """
    by_id = {task.id: task for task in problem.tasks}
    task = by_id[task_id]
    before = _before(by_id, task)
    reference = list_schedule(problem)
    at_best = figures(problem, reference)
    found: list[Offer] = []
    for day in [d for d in problem.days if d.end > max(problem.now, task.release)][:days_at_most]:
        there = _first_in(problem, task, before, max(day.start, problem.now), day.end)
        if there is None:
            continue
        start, end, team = there
        set_task = replace(
            task, fixed=Fixed(start, team), duration=end - start, part=None, quick=None, slow=None
        )
        settled = replace(problem, tasks=tuple(set_task if t.id == task_id else t for t in problem.tasks))
        schedule = list_schedule(settled)
        ends = ends_of(schedule)
        lags = {a.task: a.lag for a in task.after}
        if (
            any(ends.get(b, start + 1) + lags.get(b, 0) > start for b in before)
            or len(schedule.unplaced) > at_best.unplaced
        ):
            continue
        now = figures(settled, schedule)
        late = tuple(
            gate.id
            for gate in problem.gates
            if (reached := now.gates[gate.id]) is not None
            and reached > max(gate.wanted or 0, at_best.gates[gate.id] or 0)
        )
        first = tuple(s.task for s in schedule.stints if s.task in before)
        found.append(Offer(start, end, team, now.finish_worked, tuple(dict.fromkeys(first)), late, schedule))
    least = min((offer.cost for offer in found), default=0)
    found = [replace(offer, cost=offer.cost - least) for offer in found]
    return sorted(found, key=lambda offer: (len(offer.gates_late), offer.cost, offer.start))[:count]


def _before(by_id: dict[str, Task], task: Task) -> set[str]:
    """Everything that must be over first, all the way back."""
    found: set[str] = set()
    left = [after.task for after in task.after]
    while left:
        name = left.pop()
        if name not in found:
            found.add(name)
            left += [after.task for after in by_id[name].after]
    return found


def _first_in(
    problem: Problem, task: Task, before: set[str], start: int, end: int
) -> tuple[int, int, tuple[str, ...]] | None:
    """The first time within a day, when only what comes before and what is fixed is planned."""
    least = replace(task, release=max(start, task.release), part=None, fixed=None)
    kept = {t.id: t for t in problem.tasks if t.id in before or (t.fixed is not None and t.id != task.id)}
    kept[task.id] = least
    tasks = tuple(
        replace(
            kept[t.id],
            after=tuple(a for a in t.after if a.task in kept),
            independent_of=tuple(o for o in t.independent_of if o in kept),
        )
        for t in problem.tasks
        if t.id in kept
    )
    gates = tuple(replace(g, tasks=g.tasks & kept.keys()) for g in problem.gates)
    schedule = list_schedule(replace(problem, tasks=tasks, gates=gates, last=None))
    stint = next((s for s in schedule.stints if s.task == task.id), None)
    return None if stint is None or stint.end > end else (stint.start, stint.end, stint.team)
