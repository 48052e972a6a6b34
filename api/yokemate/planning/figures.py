"""What a schedule is worth: the objectives as figures."""

from __future__ import annotations

from yokemate.planning.jobs import days_of, end_of, ends_of, worked
from yokemate.planning.problem import Figures, Problem, Schedule, Span, Stint


def day_at(days: tuple[Span, ...], slot: int) -> Span | None:
    return next((day for day in days if day.start <= slot < day.end), None)


def gate_weights(problem: Problem) -> list[int]:
    """A slot at one gate weighs four times a slot at the next; beyond the sixth all weigh alike."""
    count = min(len(problem.gates), 6)
    return [4 ** max(0, count - 1 - n) for n in range(len(problem.gates))]


def figures(problem: Problem, schedule: Schedule) -> Figures:
    days = days_of(problem)
    ends = ends_of(schedule)
    first: dict[str, Stint] = {}
    for stint in schedule.stints:
        if stint.task not in first or stint.start < first[stint.task].start:
            first[stint.task] = stint
    finish = max(ends.values(), default=0)
    gates: dict[str, int | None] = {}
    late = 0
    for gate, weight in zip(problem.gates, gate_weights(problem), strict=True):
        reached = None if gate.tasks - ends.keys() else max((ends[t] for t in gate.tasks), default=0)
        gates[gate.id] = reached
        at = worked(days, end_of(problem) if reached is None else reached)
        late += weight * max(0, at - (worked(days, gate.wanted) if gate.wanted is not None else 0))
    lift_delay = not_soon = 0
    for task in problem.tasks:
        if task.id not in first:
            continue
        if task.lift:
            day = day_at(days, first[task.id].start)
            lift_delay += first[task.id].start - day.start if day is not None else 0
        for after in task.after:
            if after.soon is not None and after.task in ends:
                not_soon += first[task.id].start > ends[after.task] + after.lag + after.soon
    overtaken = sum(
        after.task in ends and ends[after.task] + after.lag > task.fixed.start
        for task in problem.tasks
        if task.fixed is not None
        for after in task.after
    )
    trips = set()
    load: dict[str, int] = {}
    for stint in schedule.stints:
        day = day_at(days, stint.start)
        for person in stint.team + stint.joiners + stint.company:
            trips.add((person, day))
        for person in stint.team:
            load[person] = load.get(person, 0) + stint.end - stint.start
    offered = {p.id: sum(span.end - span.start for span in p.hours) for p in problem.people}
    peak = max((100 * load[p] // offered[p] for p in load if offered.get(p)), default=0)
    moved, reteamed = _moved(problem, schedule)
    return Figures(
        finish,
        worked(days, finish),
        gates,
        late,
        lift_delay,
        len(trips),
        not_soon,
        peak,
        moved,
        reteamed,
        len(schedule.unplaced),
        overtaken,
    )


def _moved(problem: Problem, schedule: Schedule) -> tuple[int, int]:
    if problem.last is None:
        return 0, 0
    known = {task.id for task in problem.tasks if task.fixed is None}  # what is fixed is nobody's choice
    was: dict[str, list[Stint]] = {}
    now: dict[str, list[Stint]] = {}
    for stints, table in ((problem.last.stints, was), (schedule.stints, now)):
        for stint in stints:
            table.setdefault(stint.task, []).append(stint)
    moved = reteamed = 0
    for task in known & was.keys():
        if task not in now:
            moved += 1
            continue
        moved += [s.start for s in was[task]] != [s.start for s in now[task]]
        people_was = {p for s in was[task] for p in s.team}
        people_now = {p for s in now[task] for p in s.team}
        reteamed += len(people_was - people_now)
    return moved, reteamed


def rank(problem: Problem, found: Figures) -> tuple[int, ...]:
    """Smaller is better, objectives in order. Against a last plan: first the gates as they were told, then the least
    disturbance."""
    if problem.last is not None:
        return (
            found.unplaced + found.overtaken,
            told_late(problem, found),
            3 * found.moved + found.reteamed,
            found.late,
            found.lift_delay + 12 * found.person_days,
        )
    return (
        found.unplaced + found.overtaken,
        found.late,
        found.finish,
        found.not_soon,
        found.lift_delay + 12 * found.person_days,
        found.peak_load_percent,
    )


def told(problem: Problem) -> tuple[int | None, dict[str, int]]:
    """What people were told: the finish of all [working slots] (None where new work may take new time), and each gate's."""
    assert problem.last is not None
    days = days_of(problem)
    ends = ends_of(problem.last)
    known = {task.id for task in problem.tasks}
    finish = None if known - ends.keys() else worked(days, max((ends[task] for task in known), default=0))
    gates = {g.id: worked(days, max((ends.get(t, 0) for t in g.tasks), default=0)) for g in problem.gates}
    return finish, gates


def told_late(problem: Problem, found: Figures) -> int:
    """Weighted lateness behind what was wanted, or told where that was later; the finish of all counts once."""
    days = days_of(problem)
    finish, gates = told(problem)
    late = 0 if finish is None else max(0, found.finish_worked - finish)
    for gate, weight in zip(problem.gates, gate_weights(problem), strict=True):
        reached = found.gates[gate.id]
        by = max(gates[gate.id], worked(days, gate.wanted or 0))
        late += weight * max(0, worked(days, end_of(problem) if reached is None else reached) - by)
    return late
