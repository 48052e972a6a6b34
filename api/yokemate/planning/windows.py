"""Find a time for one task: windows are planned through one after the other, and those that cost the finish least stand."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace

from yokemate.planning.check import check
from yokemate.planning.figures import figures
from yokemate.planning.jobs import ends_of
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Figures, Fixed, Offer, Problem, Schedule, Stint, Task, Windows

SECONDS = 1.0  # of looking: somebody waits for the answer
_DAYS, _TRIES = 30, 60  # so many are looked at, where time allows


def windows_for(
    problem: Problem, task_id: str, clock: Callable[[], float], seconds: float = SECONDS, count: int = 3
) -> Windows:
    """The best times for a task, cheapest first, then soonest; no two overlap. Each offer carries its whole plan, with the
    task fixed, and the checker has found nothing in it.

    Where it stands is one; then every day's first window is tried, then every day's second, until `clock` [seconds, only
    forward] says that it is enough.
    Raises KeyError for a task that is not there.
    """
    find = _Finding(problem, task_id)
    begun = clock()
    open_from = max(problem.now, find.task.release)
    days = [day for day in problem.days if day.end > open_from][:_DAYS]
    todo = deque((max(day.start, problem.now), day.end) for day in days)
    found = find.as_it_stands()
    tried = 0
    while todo and tried < _TRIES and clock() - begun < seconds:
        start, end = todo.popleft()
        tried += 1
        there = find.first(start, end)
        if there is None:
            continue
        todo.append((there.end, end))
        offer = find.offer(there)
        if offer is not None:
            found.append(offer)
    found.sort(key=lambda offer: (len(offer.gates_late), offer.cost, offer.start))
    best: list[Offer] = []
    for offer in found:
        if len(best) < count and all(offer.end <= one.start or one.end <= offer.start for one in best):
            best.append(offer)
    return Windows(tuple(best), tried >= len(days))


def window_at(problem: Problem, task_id: str, start: int) -> Offer | None:
    """One window once more, as things stand: None where the task can no longer begin just then."""
    find = _Finding(problem, task_id)
    standing = next((offer for offer in find.as_it_stands() if offer.start == start), None)
    if standing is not None:
        return standing
    day = next((day for day in problem.days if day.start <= start < day.end), None)
    there = find.first(start, day.end) if day is not None and start >= problem.now else None
    return find.offer(there) if there is not None and there.start == start else None


@dataclass
class _Finding:
    """What is looked for, against the plan that stands (where it no longer holds, as it is mended with the least change)."""

    problem: Problem
    task_id: str

    def __post_init__(self) -> None:
        self.by_id = {task.id: task for task in self.problem.tasks}
        self.task = self.by_id[self.task_id]
        self.before = _before(self.by_id, self.task)
        self.plan = list_schedule(self.problem)
        self.standing: Figures = figures(self.problem, self.plan)

    def as_it_stands(self) -> list[Offer]:
        """Its time in the plan that stands, where it has one ahead."""
        there = [s for s in self.plan.stints if s.task == self.task_id and s.start >= self.problem.now]
        return [
            self._offer(one, self.plan, self.standing) for one in there if not check(self.problem, self.plan)
        ]

    def first(self, start: int, end: int) -> Stint | None:
        """The first window within a day, when only what comes before and what is fixed is planned."""
        least = replace(self.task, release=max(start, self.task.release), part=None, fixed=None)
        kept = {t.id: t for t in self.problem.tasks if t.id in self.before or t.fixed is not None}
        kept[self.task_id] = least
        tasks = tuple(
            replace(
                kept[t.id],
                after=tuple(a for a in t.after if a.task in kept),
                independent_of=tuple(o for o in t.independent_of if o in kept),
            )
            for t in self.problem.tasks
            if t.id in kept
        )
        gates = tuple(replace(g, tasks=g.tasks & kept.keys()) for g in self.problem.gates)
        schedule = list_schedule(replace(self.problem, tasks=tasks, gates=gates, last=None))
        stint = next((s for s in schedule.stints if s.task == self.task_id), None)
        return None if stint is None or stint.end > end else stint

    def offer(self, there: Stint) -> Offer | None:
        """What it comes to, with the rest of the plan round it: None where that breaks a rule or costs somebody's place.

        Everybody's told times are kept where they can be; where what comes before was told for later, all is planned anew.
        """
        fixed = Fixed(there.start, there.team)
        settled = self._with(
            replace(
                self.task, fixed=fixed, duration=there.end - there.start, part=None, quick=None, slow=None
            )
        )
        for asked in (settled, replace(settled, last=None)) if settled.last is not None else (settled,):
            schedule = list_schedule(asked)
            worth = figures(self.problem, schedule)
            if worth.unplaced > self.standing.unplaced or not self._in_time(schedule, there.start):
                continue
            if check(self._with(replace(self.task, fixed=None)), schedule):
                continue
            return self._offer(there, schedule, worth)
        return None

    def _offer(self, there: Stint, schedule: Schedule, worth: Figures) -> Offer:
        first = dict.fromkeys(s.task for s in schedule.stints if s.task in self.before)
        cost = worth.finish_worked - self.standing.finish_worked
        return Offer(there.start, there.end, there.team, cost, tuple(first), self._late(worth), schedule)

    def _with(self, task: Task) -> Problem:
        return replace(self.problem, tasks=tuple(task if t.id == task.id else t for t in self.problem.tasks))

    def _in_time(self, schedule: Schedule, start: int) -> bool:
        ends = ends_of(schedule)
        lags = {a.task: a.lag for a in self.task.after}
        return all(ends.get(b, start + 1) + lags.get(b, 0) <= start for b in self.before)

    def _late(self, worth: Figures) -> tuple[str, ...]:
        """Gates that come later than wanted, or than they do by the plan that stands where they are late anyway."""
        return tuple(
            gate.id
            for gate in self.problem.gates
            if (reached := worth.gates[gate.id]) is not None
            and reached > max(gate.wanted or 0, self.standing.gates[gate.id] or 0)
        )


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
