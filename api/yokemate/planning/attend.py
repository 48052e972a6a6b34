"""Who else is there: minors who join a task beside adults, and company for work that is never done alone (R28)."""

from __future__ import annotations

from dataclasses import replace

from yokemate.planning.figures import day_at
from yokemate.planning.jobs import days_of
from yokemate.planning.problem import Person, Problem, Schedule, Span, Stint


def _covers(person: Person, start: int, end: int) -> bool:
    return any(span.start <= start and end <= span.end for span in person.hours)


def attend(problem: Problem, schedule: Schedule) -> Schedule:
    """The same plan with joiners and company. Fixed tasks get neither. Depends on the stints alone, so that the same
    stints get the same people."""
    tasks = {task.id: task for task in problem.tasks}
    days = days_of(problem)
    minors = [person for person in problem.people if person.minor]
    adults = [person for person in problem.people if not person.minor]
    comes: dict[Span | None, set[str]] = {}
    for stint in schedule.stints:
        comes.setdefault(day_at(days, stint.start), set()).update(stint.team)
    busy: dict[str, list[tuple[int, int]]] = {}
    done: list[Stint] = []
    for stint in schedule.stints:
        task = tasks[stint.task]
        joiners: list[str] = []
        company: list[str] = []
        if task.fixed is None and stint.team:
            for person in minors:
                if (
                    person.id in task.joiners
                    and _covers(person, stint.start, stint.end)
                    and all(e <= stint.start or stint.end <= s for s, e in busy.get(person.id, ()))
                    and _room(problem, schedule, done, stint, len(joiners))
                ):
                    joiners.append(person.id)
                    busy.setdefault(person.id, []).append((stint.start, stint.end))
                    break  # one beside a team is enough
        if task.fixed is None and task.present > 1:
            here = comes.setdefault(day_at(days, stint.start), set())
            there = [p for p in adults if p.id in here and _covers(p, stint.start, stint.end)]
            for person in adults:
                if len(there) + len(company) >= task.present:
                    break
                if person.id not in here and _covers(person, stint.start, stint.end):
                    company.append(person.id)
            here.update(company)
        done.append(replace(stint, joiners=tuple(joiners), company=tuple(company)))
    return Schedule(tuple(done), schedule.unplaced)


def _room(problem: Problem, schedule: Schedule, done: list[Stint], stint: Stint, more: int) -> bool:
    """Whether one more fits into the zone, for as long as the stint takes."""
    tasks = {task.id: task for task in problem.tasks}
    zone = tasks[stint.task].zone
    most = problem.zones.get(zone) if zone is not None else None
    if most is None:
        return True
    joined = {(s.task, s.start): len(s.joiners) for s in done}
    beside = [
        s
        for s in schedule.stints
        if tasks[s.task].zone == zone and s.start < stint.end and stint.start < s.end
    ]
    return all(
        sum(len(s.team) + joined.get((s.task, s.start), 0) for s in beside if s.start <= at < s.end) + more
        < most
        for at in {stint.start, *(s.start for s in beside if s.start > stint.start)}
    )
