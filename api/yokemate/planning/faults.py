"""Whether something is a problem that can be planned at all, before anybody plans it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from yokemate.planning.problem import Problem, Span, Task
from yokemate.planning.reasons import Fault

MOST_PEOPLE = 60
MOST_TASKS = 2000
MOST_SLOTS = 366 * 24 * 60


def faults(problem: Problem) -> list[Fault]:
    """What is wrong with it, nothing left out; empty when it can be planned."""
    found = list(_counts(problem)) + list(_times(problem)) + list(_names(problem))
    if not found:
        found += list(_tasks(problem))
        circle = _circle(problem)
        if circle:
            found.append(Fault("circle", {"tasks": circle}))
    return found


def _counts(problem: Problem) -> Iterator[Fault]:
    for what, things, most in (
        ("people", len(problem.people), MOST_PEOPLE),
        ("tasks", len(problem.tasks), MOST_TASKS),
        ("slots", max((day.end for day in problem.days), default=problem.horizon), MOST_SLOTS),
    ):
        if things > most:
            yield Fault("too_many", {"what": what, "count": things, "most": most})
    for kind, table in (("tool", problem.tools), ("zone", problem.zones)):
        for what, count in table.items():
            if count < 0:
                yield Fault("impossible_count", {"what": what, "kind": kind, "count": count})
    for what, count in (
        ("slot_min", problem.slot_min),
        ("horizon", problem.horizon + 1),
        ("now", problem.now + 1),
    ):
        if count < 1:
            yield Fault("impossible_count", {"what": what, "count": count})


def _times(problem: Problem) -> Iterator[Fault]:
    yield from _row("", problem.days)
    for person in problem.people:
        yield from _row(person.id, person.hours)
        if not 1 <= person.comes_percent <= 100:
            yield Fault(
                "impossible_count",
                {"what": person.id, "kind": "comes_percent", "count": person.comes_percent},
            )
        for span in person.hours:
            if not any(day.start <= span.start and span.end <= day.end for day in problem.days):
                yield Fault("outside_days", {"person": person.id, "start": span.start, "end": span.end})


def _row(person: str, spans: tuple[Span, ...]) -> Iterator[Fault]:
    last = 0
    for span in spans:
        if span.end <= span.start or span.start < 0:
            yield Fault("empty_span", {"person": person, "start": span.start, "end": span.end})
        elif span.start < last:
            yield Fault("overlap", {"person": person, "start": span.start, "end": span.end})
        last = max(last, span.end)


def _names(problem: Problem) -> Iterator[Fault]:
    tasks = {task.id for task in problem.tasks}
    people = {person.id for person in problem.people}
    for kind, ids in (
        ("task", [task.id for task in problem.tasks]),
        ("person", [person.id for person in problem.people]),
        ("gate", [gate.id for gate in problem.gates]),
    ):
        for what, count in Counter(ids).items():
            if count > 1:
                yield Fault("twice", {"kind": kind, "what": what})
    for gate in problem.gates:
        for what in sorted(gate.tasks - tasks):
            yield Fault("unknown", {"kind": "task", "what": what, "where": gate.id})
    for task in problem.tasks:
        for what in sorted({after.task for after in task.after} - tasks | set(task.independent_of) - tasks):
            yield Fault("unknown", {"kind": "task", "what": what, "where": task.id})
        asked = (task.eligible or frozenset()) | task.holders | task.joiners
        settled = {*task.fixed.team, *task.fixed.asked} if task.fixed is not None else set()
        for what in sorted((asked | settled) - people):
            yield Fault("unknown", {"kind": "person", "what": what, "where": task.id})
        for use in task.tools:
            if use.tool not in problem.tools:
                yield Fault("unknown", {"kind": "tool", "what": use.tool, "where": task.id})


def _tasks(problem: Problem) -> Iterator[Fault]:
    for task in problem.tasks:
        for kind, count, least in _figures(task):
            if count < least:
                yield Fault("impossible_count", {"what": task.id, "kind": kind, "count": count})
        if task.part is not None and task.part > task.duration:
            yield Fault("impossible_count", {"what": task.id, "kind": "part", "count": task.part})
        if len(task.holders) > task.people:
            yield Fault("impossible_count", {"what": task.id, "kind": "holders", "count": len(task.holders)})
        if sum(need.count for need in task.needs) > task.people:
            yield Fault("impossible_count", {"what": task.id, "kind": "needs", "count": task.people})
        if task.slow is not None and task.slow < task.duration:
            yield Fault("impossible_count", {"what": task.id, "kind": "slow", "count": task.slow})
        if task.quick is not None and not 1 <= task.quick <= task.duration:
            yield Fault("impossible_count", {"what": task.id, "kind": "quick", "count": task.quick})


def _figures(task: Task) -> Iterator[tuple[str, int, int]]:
    yield "duration", task.duration, 1
    yield "people", task.people, 0
    yield "release", task.release, 0
    yield "present", task.present, 0
    yield "part", task.part if task.part is not None else 1, 1
    yield "with_learner", task.with_learner if task.with_learner is not None else task.duration, task.duration
    for after in task.after:
        yield "lag", after.lag, 0
        yield "soon", after.soon if after.soon is not None else 1, 1
    for need in task.needs:
        yield "needs", need.count, 1
    for use in task.tools:
        yield "tools", use.count, 1


def _circle(problem: Problem) -> tuple[str, ...]:
    """Tasks that wait for each other all the way round."""
    before = {task.id: {after.task for after in task.after} for task in problem.tasks}
    left = dict(before)
    while free := [task for task, waits in left.items() if not waits & left.keys()]:
        for task in free:
            del left[task]
    if not left:
        return ()
    walk = [next(iter(left))]
    while True:
        following = min(before[walk[-1]] & left.keys())
        if following in walk:
            return tuple(walk[walk.index(following) :])
        walk.append(following)
