"""A problem with some of its causes only: what is not named is taken away, as if it had never been in the way.

Taking a cause away never makes anything harder, so that what is impossible with few causes is so with all of them.
What can't be taken away is the ground: the tasks asked for, their order and lengths, who is in the crew, the build days.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from yokemate.planning.jobs import end_of
from yokemate.planning.problem import Gate, Problem, Task
from yokemate.planning.reasons import Cause

KINDS = (  # the last ones are given up first: a reason that names nobody is the better one
    "gate", "appointment", "part", "cure", "tool", "zone", "skill", "hazard", "independence", "company", "tired", "hours",
    "work",
)  # fmt: skip
DEMAND = "demand"  # the only gate of a problem that was asked about


@dataclass(frozen=True, slots=True)
class Demand:
    """What is asked for: that all of `tasks` are over by a slot; None: before the end. `date`: what sets that slot."""

    tasks: frozenset[str]
    by: int | None = None
    date: Cause | None = None


def before(problem: Problem, tasks: frozenset[str]) -> frozenset[str]:
    """These tasks and everything that must be over before them, all the way back."""
    by_id = {task.id: task for task in problem.tasks}
    found: set[str] = set()
    left = list(tasks)
    while left:
        name = left.pop()
        if name not in found and name in by_id:
            found.add(name)
            left += [after.task for after in by_id[name].after]
    return frozenset(found)


class Causes:
    """The causes of one demand in one problem."""

    def __init__(self, problem: Problem, demand: Demand) -> None:
        self.problem, self.demand = problem, demand
        self.needed = before(problem, demand.tasks)
        self.every = in_order(set(self._every()))

    def _every(self) -> list[Cause]:
        problem = self.problem
        found: list[Cause] = []
        for task in problem.tasks:
            if task.fixed is not None:
                found.append(Cause("appointment", (task.id,)))
                continue
            found += [Cause("work", (task.id,))] if task.id not in self.needed else []
            found += [Cause("tool", (u.tool,)) for u in task.tools if u.tool in problem.tools]
            found += [Cause("zone", (task.zone,))] if task.zone in problem.zones and task.zone else []
            found += [Cause("skill", (need.skill,)) for need in task.needs]
            found += [Cause("cure", (a.task, task.id)) for a in task.after if a.lag]
            if task.release > problem.now:
                found.append(
                    Cause("part", (task.waits_for,)) if task.waits_for else Cause("cure", ("", task.id))
                )
            found += [Cause("independence", (task.id,))] if task.independent_of else []
            found += [Cause("company", (task.id,))] if task.present > max(1, task.people) else []
            found += [Cause("tired", (task.id,))] if task.not_last else []
        for person in problem.people:
            for day in problem.days if not person.minor else ():
                there = [s for s in person.hours if day.start <= s.start < day.end]
                if day.end > problem.now and there != [day]:
                    found.append(Cause("hours", (person.id, str(day.start))))
        tags = {tag for task in problem.tasks for tag in task.hazards}
        found += [Cause("hazard", tuple(sorted(pair))) for pair in problem.never_beside if pair <= tags]
        found += [self.demand.date] if self.demand.date is not None else []
        return found

    def kinds(self) -> list[Cause]:
        """One cause for each kind there is."""
        return [Cause(kind) for kind in KINDS if any(cause.kind == kind for cause in self.every)]

    def parts(self, cause: Cause) -> list[Cause]:
        """What a cause is made of, one step finer; nothing: it is the finest."""
        depth = len(cause.item) + (2 if cause.kind in ("cure", "hazard") else 1)
        finer = [c.item[:depth] for c in self.every if _within(c, cause) and len(c.item) >= depth]
        return [Cause(cause.kind, item) for item in dict.fromkeys(finer)]

    def rivals(self) -> list[Cause]:
        """Other work, what wants the same things or people as the work asked for first."""
        mine = [task for task in self.problem.tasks if task.id in self.needed]
        tools = {use.tool for task in mine for use in task.tools}
        skills = {need.skill for task in mine for need in task.needs}
        zones = {task.zone for task in mine if task.zone is not None}
        enemies = {
            tag
            for task in mine
            for own in task.hazards
            for pair in self.problem.never_beside
            if own in pair
            for tag in pair
        }
        few = frozenset(person for task in mine for person in task.eligible or ())

        def shared(task: Task) -> int:
            return (
                8 * any(use.tool in tools for use in task.tools)
                + 4 * bool(few & (task.eligible or frozenset()))
                + 2 * any(need.skill in skills for need in task.needs)
                + 2 * bool(enemies & task.hazards)
                + (task.zone in zones)
            )

        others = [task for task in self.problem.tasks if task.id not in self.needed and task.fixed is None]
        return [Cause("work", (task.id,)) for task in sorted(others, key=shared, reverse=True)]

    def only(self, kept: frozenset[Cause]) -> Problem:
        """The problem with these causes and no others; its one gate is the demand."""
        problem, demand = self.problem, self.demand

        def stands(kind: str, *item: str) -> bool:
            return any(Cause(kind, item[:n]) in kept for n in range(len(item) + 1))

        tasks = [
            task
            for task in problem.tasks
            if (
                stands("appointment", task.id)
                if task.fixed is not None
                else task.id in self.needed or stands("work", task.id)
            )
        ]
        there = {task.id for task in tasks}
        easy = {n.skill for task in tasks for n in task.needs if not stands("skill", n.skill)}
        people = tuple(
            person
            if person.minor
            else replace(
                person,
                skills=person.skills | easy,
                hours=tuple(
                    span
                    for day in problem.days
                    for span in (
                        [s for s in person.hours if day.start <= s.start < day.end]
                        if stands("hours", person.id, str(day.start))
                        else [day]
                    )
                )
                if problem.days
                else person.hours,
            )
            for person in problem.people
        )
        dated = demand.date is not None and stands(demand.date.kind, *demand.date.item)
        by = demand.by if dated or demand.date is None else None
        return replace(
            problem,
            tasks=tuple(self._plain(task, there, stands) if task.fixed is None else _kept(task, there) for task in tasks),
            people=people,
            gates=(Gate(DEMAND, demand.tasks & there, end_of(problem) if by is None else by),),
            tools={tool: count for tool, count in problem.tools.items() if stands("tool", tool)},
            zones={zone: room for zone, room in problem.zones.items() if stands("zone", zone)},
            never_beside=frozenset(p for p in problem.never_beside if stands("hazard", *sorted(p))),
            last=None,
        )  # fmt: skip

    def _plain(self, task: Task, there: set[str], stands) -> Task:  # type: ignore[no-untyped-def]
        late = stands("part", task.waits_for) if task.waits_for else stands("cure", "", task.id)
        task = _kept(task, there)
        return replace(
            task,
            after=tuple(a if stands("cure", a.task, task.id) else replace(a, lag=0) for a in task.after),
            independent_of=task.independent_of if stands("independence", task.id) else (),
            release=task.release if late else self.problem.now,
            present=task.present if stands("company", task.id) else 1,
            not_last=task.not_last and stands("tired", task.id),
        )


def _kept(task: Task, there: set[str]) -> Task:
    """The task without what is not there any more."""
    return replace(
        task,
        after=tuple(a for a in task.after if a.task in there),
        independent_of=tuple(other for other in task.independent_of if other in there),
    )


def in_order(causes: Iterable[Cause]) -> tuple[Cause, ...]:
    """By kind, work last."""
    return tuple(sorted(causes, key=lambda cause: (KINDS.index(cause.kind), cause.item)))


def _within(cause: Cause, whole: Cause) -> bool:
    return cause.kind == whole.kind and cause.item[: len(whole.item)] == whole.item
