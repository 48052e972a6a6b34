"""One way out: small changes after which everything that was asked for has a place, each tried and proven by the checker.

What keeps people safe is no way out: cures, countersigns by others, hazards apart, company, zones and tired hands stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from yokemate.planning.causes import Causes, Demand
from yokemate.planning.jobs import ends_of
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Person, Problem, Schedule, Span
from yokemate.planning.proof import keeps, loosened, without_solver
from yokemate.planning.reasons import Cause, Reason, Remedy
from yokemate.planning.why_not import changed_task, changes

_OFFERED, _TRIES, _PASSES = 3, 40, 3
_LONGER = (6, 12, 24, 48)  # half an hour to four hours, in slots of 5 min
_EASIEST = ("hours", "part", "appointment", "tool")  # to stay longer costs less than another crane
Change = tuple[Remedy, Problem, Demand]


def ways(problem: Problem, demand: Demand, held: Reason, should_stop: Callable[[], bool]) -> Iterator[Remedy]:
    """At most three, those that touch a single cause first; of each kind the smallest that did."""
    kinds: set[tuple[str, str]] = set()
    tries = 0
    for remedy, changed, asked in _changes(problem, demand, held):
        same = (remedy.code, str(remedy.about.get("person", remedy.about.get("what", ""))))
        if same in kinds:
            continue
        if len(kinds) >= _OFFERED or tries >= _TRIES or should_stop():
            return
        tries += 1
        if _plan(changed, asked) is not None:
            kinds.add(same)
            yield remedy


def _plan(problem: Problem, demand: Demand) -> Schedule | None:
    causes = Causes(problem, demand)
    whole = causes.only(frozenset(causes.kinds()))
    if without_solver(loosened(whole)).proof:
        return None
    found = list_schedule(whole, _PASSES)
    return found if keeps(whole, found) else None


def _changes(problem: Problem, demand: Demand, held: Reason) -> Iterator[Change]:
    for kind in _EASIEST:
        for cause in held.causes:
            if cause.kind == kind and cause.item:
                yield from _of_one(problem, demand, cause)
    task = next(task for task in problem.tasks if task.id == held.task)
    plain = replace(held, about={"skill": held.about.get("skill", "")})  # whose figures count something else
    for remedy, changed in changes(problem, task, plain):
        yield remedy, changed, demand
    if demand.date is not None and demand.date.kind == "gate" and demand.by is not None:
        open_end = replace(demand, by=None)
        found = _plan(problem, open_end)
        if found is not None:
            ends = ends_of(found)
            reached = max(ends[task] for task in demand.tasks)
            about: dict[str, str | int | tuple[str, ...]] = {
                "gate": demand.date.item[0],
                "slots": reached - demand.by,
            }
            yield Remedy("gate", about), problem, replace(demand, by=reached)


def _of_one(problem: Problem, demand: Demand, cause: Cause) -> Iterator[Change]:
    by_id = {task.id: task for task in problem.tasks}
    if cause.kind == "tool":
        tool = cause.item[0]
        more = problem.tools[tool] + 1
        yield (
            Remedy("capacity", {"what": tool, "count": more}),
            replace(problem, tools={**problem.tools, tool: more}),
            demand,
        )
    elif cause.kind == "part":
        waiting = [task for task in problem.tasks if task.waits_for == cause.item[0] and task.fixed is None]
        comes = max(task.release for task in waiting)
        for day in reversed([day for day in problem.days if problem.now <= day.start < comes]):
            early = tuple(
                replace(task, release=min(task.release, day.start)) if task in waiting else task
                for task in problem.tasks
            )
            yield (
                Remedy("part", {"part": cause.item[0], "slots": comes - day.start}),
                replace(problem, tasks=early),
                demand,
            )
    elif cause.kind == "appointment" and by_id[cause.item[0]].lift:
        moved = changed_task(problem, replace(by_id[cause.item[0]], fixed=None))
        open_end = demand if demand.date != cause else Demand(demand.tasks | {cause.item[0]})
        yield Remedy("appointment", {"task": cause.item[0]}), moved, open_end
    elif cause.kind == "hours" and len(cause.item) == 2:
        day = next(day for day in problem.days if str(day.start) == cause.item[1])
        person = next(person for person in problem.people if person.id == cause.item[0])
        there = [span for span in person.hours if day.start <= span.start < day.end]
        for more in (*_LONGER, 0):
            end = min(day.end, there[-1].end + more) if there else day.end
            if more and (not there or end == there[-1].end):
                continue
            longer = (*there[:-1], Span(there[-1].start, end)) if more else (day,)
            others = tuple(span for span in person.hours if span not in there)
            hours = tuple(sorted((*others, *longer)))
            yield (
                Remedy(
                    "stays", {"person": person.id, "day": day.start, "slots": more and end - there[-1].end}
                ),
                replace(problem, people=_with(problem, replace(person, hours=hours))),
                demand,
            )


def _with(problem: Problem, person: Person) -> tuple[Person, ...]:
    return tuple(person if one.id == person.id else one for one in problem.people)
