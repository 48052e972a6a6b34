"""Proves a schedule against the problem, rule by rule, slot by slot where that is simplest.

Shares nothing with what makes schedules but the data model, on purpose: plain loops over what the problem says.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator

from yokemate.planning.problem import Person, Problem, Schedule, Stint, Task
from yokemate.planning.reasons import Finding

About = dict[str, str | int | tuple[str, ...]]


def check(problem: Problem, schedule: Schedule) -> list[Finding]:
    """Every rule that the schedule breaks; empty when it keeps them all. Fixed tasks are only held to their own figures."""
    tasks = {task.id: task for task in problem.tasks}
    known = [stint for stint in schedule.stints if stint.task in tasks]
    found = [Finding("unknown", s.task, {}) for s in schedule.stints if s.task not in tasks]
    by_task: dict[str, list[Stint]] = {}
    for stint in known:
        by_task.setdefault(stint.task, []).append(stint)
    for stints in by_task.values():
        stints.sort(key=lambda s: s.start)
    for task in problem.tasks:
        stints = by_task.get(task.id, [])
        if task.id in schedule.unplaced:
            found += [Finding("twice", task.id, {})] if stints else []
        elif not stints:
            found.append(Finding("missing", task.id, {}))
        elif task.fixed is not None:
            found += _fixed(task, stints)
        else:
            found += _length(problem, task, stints)
            found += _before(task, stints, by_task)
            for stint in stints:
                found += _when(problem, task, stint)
                found += _who(problem, task, stint)
                found += _not_alone(problem, known, task, stint)
    found += _independent(problem, by_task)
    found += _people_once(tasks, known)
    found += _held(problem, tasks, known)
    found += _hazards(problem, tasks, known)
    return found


def _fixed(task: Task, stints: list[Stint]) -> Iterator[Finding]:
    assert task.fixed is not None
    stint = stints[0]
    right = (
        len(stints) == 1
        and stint.start == task.fixed.start
        and stint.end == task.fixed.start + task.duration
        and set(stint.team) == set(task.fixed.team)
    )
    if not right:
        yield Finding("fixed", task.id, {"start": task.fixed.start})


def _length(problem: Problem, task: Task, stints: list[Stint]) -> Iterator[Finding]:
    total = sum(s.end - s.start for s in stints)
    if any(s.end <= s.start for s in stints) or any(b.start < a.end for a, b in itertools.pairwise(stints)):
        yield Finding("order", task.id, {})
    if task.undated:
        yield Finding("undated", task.id, {"parts": task.undated})
    if task.part is None and len(stints) > 1:
        yield Finding("part", task.id, {"stretches": len(stints)})
    if task.part is not None and any(s.end - s.start < task.part for s in stints):
        yield Finding("part", task.id, {"least": task.part})
    wanted = {task.duration}
    if task.with_learner is not None:
        teams = {name for stint in stints for name in stint.team}
        able = {need.skill for need in task.needs}
        learns = any(p.id in teams and not able & p.skills for p in problem.people)
        wanted = {task.with_learner} if learns else {task.duration, task.with_learner}
    if total not in wanted:
        yield Finding("length", task.id, {"slots": total, "wanted": max(wanted)})


def _before(task: Task, stints: list[Stint], by_task: dict[str, list[Stint]]) -> Iterator[Finding]:
    for after in task.after:
        theirs = by_task.get(after.task)
        if not theirs:
            yield Finding("before", task.id, {"task": after.task})
        elif stints[0].start < theirs[-1].end + after.lag:
            yield Finding("before", task.id, {"task": after.task, "lag": after.lag})


def _when(problem: Problem, task: Task, stint: Stint) -> Iterator[Finding]:
    if stint.start < max(problem.now, task.release):
        yield Finding("early", task.id, {"slot": max(problem.now, task.release)})
    end = problem.horizon or (problem.days[-1].end if problem.days else 0)
    day = next((d for d in problem.days if d.start <= stint.start and stint.end <= d.end), None)
    if stint.end > end or (problem.days and day is None):
        yield Finding("day", task.id, {"start": stint.start, "end": stint.end})
    day_end = day.end if day is not None else end
    if task.not_last and stint.end > day_end - problem.tired_slots:
        yield Finding("tired", task.id, {"end": stint.end})


def _in(person: Person, start: int, end: int) -> bool:
    return any(span.start <= start and end <= span.end for span in person.hours)


def _who(problem: Problem, task: Task, stint: Stint) -> Iterator[Finding]:
    crew = {person.id: person for person in problem.people}
    if len(stint.team) != task.people or len(set(stint.team)) != len(stint.team):
        yield Finding("team_size", task.id, {"wanted": task.people, "count": len(set(stint.team))})
    for name in (*stint.team, *stint.joiners, *stint.company):
        if name not in crew:
            yield Finding("unknown", task.id, {"person": name})
        elif not _in(crew[name], stint.start, stint.end):
            yield Finding("hours", task.id, {"person": name})
    for name in stint.team:
        if name in crew and crew[name].minor:
            yield Finding("minor", task.id, {"person": name})
        if task.eligible is not None and name not in task.eligible:
            yield Finding("not_eligible", task.id, {"person": name})
    for name in sorted(task.holders - set(stint.team)):
        yield Finding("holder", task.id, {"person": name})
    for name in stint.joiners:
        if name not in task.joiners or name in stint.team or not stint.team:
            yield Finding("joiner", task.id, {"person": name})
    team = [crew[name] for name in stint.team if name in crew]
    if not _needs_met(task, team):
        yield Finding("skill", task.id, {"skills": tuple(need.skill for need in task.needs)})


def _needs_met(task: Task, team: list[Person]) -> bool:
    """Whether each needed place can have a skilled person of its own (tries every way; teams are small)."""

    def give(needed: list[str], left: list[Person]) -> bool:
        if not needed:
            return True
        return any(
            needed[0] in p.skills and give(needed[1:], left[:n] + left[n + 1 :]) for n, p in enumerate(left)
        )

    return give([need.skill for need in task.needs for _ in range(need.count)], team)


def _not_alone(problem: Problem, stints: list[Stint], task: Task, stint: Stint) -> Iterator[Finding]:
    """People with work or asked along on the same day, whose hours cover the whole stint."""
    if task.present <= 1:
        return
    day = next((d for d in problem.days if d.start <= stint.start < d.end), None)
    come = set(stint.company)
    for other in stints:
        if day is not None and day.start <= other.start < day.end:
            come.update(other.team)
            come.update(other.company)
    there = sum(p.id in come and not p.minor and _in(p, stint.start, stint.end) for p in problem.people)
    if there < task.present:
        yield Finding("alone", task.id, {"wanted": task.present, "count": there})


def _independent(problem: Problem, by_task: dict[str, list[Stint]]) -> Iterator[Finding]:
    for task in problem.tasks:
        for other in task.independent_of:
            mine = {p for s in by_task.get(task.id, []) for p in s.team}
            theirs = {p for s in by_task.get(other, []) for p in (*s.team, *s.joiners)}
            both = mine & theirs
            if both and task.fixed is None:
                yield Finding("not_independent", task.id, {"task": other, "people": tuple(sorted(both))})


def _people_once(tasks: dict[str, Task], stints: list[Stint]) -> Iterator[Finding]:
    at: dict[str, list[Stint]] = {}
    for stint in stints:
        for name in (*stint.team, *stint.joiners):
            at.setdefault(name, []).append(stint)
    for name, theirs in at.items():
        for n, a in enumerate(theirs):
            for b in theirs[n + 1 :]:
                both_fixed = tasks[a.task].fixed is not None and tasks[b.task].fixed is not None
                if a.start < b.end and b.start < a.end and not both_fixed:
                    yield Finding("double_booked", a.task, {"person": name, "task": b.task})
    for task in tasks.values():
        if task.fixed is None:
            continue
        for name in task.fixed.asked:
            for a in at.get(name, ()):
                loose = tasks[a.task].fixed is None
                if loose and a.start < task.fixed.start + task.duration and task.fixed.start < a.end:
                    yield Finding("asked", a.task, {"person": name, "task": task.id})


def _held(problem: Problem, tasks: dict[str, Task], stints: list[Stint]) -> Iterator[Finding]:
    """Use of tools and zones in every slot in which something that is not fixed begins or goes on."""
    used: dict[tuple[str, str], Counter[int]] = {}
    loose: dict[tuple[str, str], set[int]] = {}
    for stint in stints:
        task = tasks[stint.task]
        holds = [(("tool", use.tool), use.count) for use in task.tools]
        if task.zone is not None:
            holds.append((("zone", task.zone), len(stint.team) + len(stint.joiners)))
        for key, count in holds:
            for slot in range(stint.start, stint.end):
                used.setdefault(key, Counter())[slot] += count
            if task.fixed is None and count:
                loose.setdefault(key, set()).update(range(stint.start, stint.end))
    for (kind, what), slots in used.items():
        most = (problem.tools if kind == "tool" else problem.zones).get(what)
        over = [s for s in slots if most is not None and slots[s] > most and s in loose.get((kind, what), ())]
        if over:
            at = min(over)
            there = [s.task for s in stints if s.start <= at < s.end and _holds(tasks[s.task], kind, what)]
            yield Finding(
                kind, there[-1], {"what": what, "slot": at, "count": slots[at], "tasks": tuple(there)}
            )


def _holds(task: Task, kind: str, what: str) -> bool:
    return task.zone == what if kind == "zone" else any(use.tool == what for use in task.tools)


def _hazards(problem: Problem, tasks: dict[str, Task], stints: list[Stint]) -> Iterator[Finding]:
    dangerous = [s for s in stints if tasks[s.task].hazards]
    for n, a in enumerate(dangerous):
        for b in dangerous[n + 1 :]:
            if a.task == b.task or not (a.start < b.end and b.start < a.end):
                continue
            if tasks[a.task].fixed is not None and tasks[b.task].fixed is not None:
                continue
            for mine in tasks[a.task].hazards:
                for theirs in tasks[b.task].hazards:
                    if frozenset((mine, theirs)) in problem.never_beside:
                        yield Finding("hazard", a.task, {"task": b.task, "hazards": (mine, theirs)})
