"""What a schedule is worth: the objectives as figures."""

from __future__ import annotations

from bisect import bisect_right

from yokemate.planning.jobs import days_of, end_of, ends_of, worked
from yokemate.planning.problem import Figures, Problem, Schedule, Span, Stint


def day_at(days: tuple[Span, ...], slot: int) -> Span | None:
    n = bisect_right(days, slot, key=_start) - 1
    return days[n] if n >= 0 and slot < days[n].end else None


def _start(day: Span) -> int:
    return day.start


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
    """Smaller is better, objectives in order. Against a last plan: first the dates of gates, by the day, then the least
    disturbance, in which a later hour of the finish counts as well."""
    if problem.last is not None:
        return (
            found.unplaced + found.overtaken,
            broken_days(problem, found),
            disturbance(problem, found),
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


MOVED, RETEAMED = 3, 1  # what a start that moves and a person who changes weigh


def slot_told(problem: Problem) -> int:
    """What a slot's lateness behind what was told weighs against a start that moves."""
    return max(1, round(20 * problem.slot_min / 15))


def disturbance(problem: Problem, found: Figures) -> int:
    """Lateness behind what people were told, starts that move, people who change."""
    return slot_told(problem) * told_late(problem, found) + MOVED * found.moved + RETEAMED * found.reteamed


def broken_days(problem: Problem, found: Figures) -> int:
    """Build days by which gates with a date miss it, by weight; of one that was told for later, that day.

    A date is a day: an hour later on the same day breaks nobody's word, and is weighed against what it would move.
    """
    days = days_of(problem)
    _, gates = told(problem)
    broken = 0
    for gate, weight in zip(problem.gates, gate_weights(problem), strict=True):
        if gate.wanted is not None:
            by = max(gates[gate.id], worked(days, gate.wanted))
            reached = found.gates[gate.id]
            at = worked(days, end_of(problem) if reached is None else reached)
            broken += weight * max(0, _day_count(days, at) - _day_count(days, by))
    return broken


def _day_count(days: tuple[Span, ...], at: int) -> int:
    """How many build days have begun by a moment in working time."""
    begun = 0
    for day in days:
        if at <= 0:
            break
        at -= day.end - day.start
        begun += 1
    return begun


def told_late(problem: Problem, found: Figures) -> int:
    """Slots behind what was wanted of each gate, or told where that was later; and of the finish of all."""
    days = days_of(problem)
    finish, gates = told(problem)
    late = 0 if finish is None else max(0, found.finish_worked - finish)
    for gate in problem.gates:
        reached = found.gates[gate.id]
        by = max(gates[gate.id], worked(days, gate.wanted or 0))
        late += max(0, worked(days, end_of(problem) if reached is None else reached) - by)
    return late
