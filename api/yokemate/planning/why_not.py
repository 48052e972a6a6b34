"""Why a task has no place, from its own needs: who is ever free together, for its whole length, after its part is there.

No solver: each task is looked at as if it were alone, then each remedy is tried by planning again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from yokemate.planning.board import Board
from yokemate.planning.check import check
from yokemate.planning.counting import at_least, span_mask, starts_of
from yokemate.planning.jobs import end_of, ends_of, jobs_of
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Person, Problem, Schedule, Span, Task
from yokemate.planning.reasons import Reason, Remedy

_DAYS_NAMED = 5
_HELPERS = 4  # who lacks more lacks a crew
_STRETCH_MIN = 120  # worth coming for: common practice
About = dict[str, str | int | tuple[str, ...]]
_REMEDIES = 3
_TRIES = (
    60  # plans made in all to try remedies: the first reasons get them, a long list of reasons ends without
)


def why_not(problem: Problem, schedule: Schedule | None = None, remedies: bool = True) -> list[Reason]:
    """A reason for each task without a place, in the order of the tasks; none when all have one.

    The first of a chain says what is in its way; those behind it say whom they follow. Then what comes too late for a
    fixed task. remedies: also try changes, and kinds of want (`relieved_by`).
    """
    if schedule is None:
        schedule = list_schedule(problem)
    gone = set(schedule.unplaced)
    ends = ends_of(schedule)
    late = [
        Reason(
            "late_for",
            after.task,
            {"task": task.id, "slots": ends[after.task] + after.lag - task.fixed.start},
        )
        for task in problem.tasks
        if task.fixed is not None
        for after in task.after
        if ends.get(after.task, 0) + after.lag > task.fixed.start and after.task in ends
    ]
    tries = [_TRIES if remedies else 0]
    return [_why(problem, schedule, task, gone, tries) for task in problem.tasks if task.id in gone] + late


def _why(problem: Problem, schedule: Schedule, task: Task, gone: set[str], tries: list[int]) -> Reason:
    for after in task.after:
        if after.task in gone:
            return Reason("follows", task.id, {"task": after.task})
    found = next(_alone(problem, task), None)
    if found is None:
        found = _independent(problem, schedule, task)
    if found is None:
        found = Reason(
            "full", task.id, {"end": end_of(problem), "relieved_by": _relieved_by(problem, task, tries)}
        )
    return replace(found, remedies=tuple(_remedies(problem, task, found, tries)))


def _alone(problem: Problem, task: Task) -> Iterator[Reason]:
    """What would be in its way if there were no other task."""
    if task.undated:
        yield Reason("no_date", task.id, {"parts": task.undated})
    longest = max((day.end - day.start for day in problem.days), default=_stretch(task))
    if _stretch(task) > longest:
        yield Reason("too_long", task.id, {"slots": _stretch(task), "most": longest})
    asked = [p for p in problem.people if not p.minor and (task.eligible is None or p.id in task.eligible)]
    if len(asked) < task.people:
        yield Reason("too_few", task.id, {"wanted": task.people, "count": len(asked)})
    for need in task.needs:
        count = sum(need.skill in p.skills for p in asked)
        if count < need.count:
            yield Reason("skill", task.id, {"skill": need.skill, "wanted": need.count, "count": count})
    for use in task.tools:
        if use.count > problem.tools.get(use.tool, 0):
            yield Reason(
                "tool",
                task.id,
                {"what": use.tool, "wanted": use.count, "count": problem.tools.get(use.tool, 0)},
            )
    room = problem.zones.get(task.zone, task.people) if task.zone is not None else task.people
    if room < task.people:
        yield Reason("zone", task.id, {"what": task.zone or "", "wanted": task.people, "count": room})
    if task.waits_for is not None and task.release >= end_of(problem):
        yield Reason("late_part", task.id, {"part": task.waits_for, "slot": task.release})
    about: About
    bare = _by_itself(problem, task)
    together = _together(bare, task, lambda _: True)
    best = max(together, default=(0, 0))[0]
    if best < task.people:
        days = tuple(
            str(start) for most, start in sorted(together, reverse=True)[:_DAYS_NAMED] if most == best
        )
        about = {"wanted": task.people, "most": best, "slots": _stretch(task), "days": days}
        if task.waits_for is not None and _fits(_but(bare, release=0)):
            yield Reason("late_part", task.id, {"part": task.waits_for, "slot": task.release})
        yield Reason("never_together", task.id, about)
    if task.holders and not _fits(bare) and _fits(_but(bare, holders=frozenset())):
        yield Reason("holders", task.id, {"people": tuple(sorted(task.holders)), "slots": _stretch(task)})
    for need in task.needs:
        skilled = _together(bare, task, lambda p, skill=need.skill: skill in p.skills)  # type: ignore[misc]
        best = max(skilled, default=(0, 0))[0]
        if best < need.count:
            days = tuple(
                str(start) for most, start in sorted(skilled, reverse=True)[:_DAYS_NAMED] if most == best
            )
            about = {
                "skill": need.skill,
                "wanted": need.count,
                "most": best,
                "slots": _stretch(task),
                "days": days,
            }
            yield Reason("skill_never_together", task.id, about)
    if not _fits(bare):
        if task.not_last and _fits(_but(bare, not_last=False)):
            yield Reason("tired", task.id, {"slots": problem.tired_slots})
        if task.present > 1 and _fits(_but(bare, present=1)):
            most = max((m for m, _ in _together(bare, task, lambda _: True, everybody=True)), default=0)
            yield Reason("alone", task.id, {"wanted": task.present, "most": most})
        if task.waits_for is not None and _fits(_but(bare, release=0)):
            yield Reason("late_part", task.id, {"part": task.waits_for, "slot": task.release})


def _stretch(task: Task) -> int:
    return task.duration if task.part is None else task.part


def _by_itself(problem: Problem, task: Task) -> Problem:
    """The problem with this task only, and what is fixed."""
    alone = replace(task, after=(), independent_of=())
    fixed = tuple(
        replace(t, after=(), independent_of=())
        for t in problem.tasks
        if t.fixed is not None and t.id != task.id
    )
    return replace(problem, tasks=(alone, *fixed), gates=(), last=None)


def _but(bare: Problem, **changes: Any) -> Problem:
    """The same with the task otherwise."""
    return replace(bare, tasks=(replace(bare.tasks[0], **changes), *bare.tasks[1:]))


def _fits(problem: Problem) -> bool:
    return problem.tasks[0].id not in list_schedule(problem).unplaced


def _together(
    problem: Problem, task: Task, fit: Callable[[Person], bool], everybody: bool = False
) -> list[tuple[int, int]]:
    """Per day from its release on: how many who fit are at most free together for its length; with the day's start."""
    jobs = jobs_of(problem)
    board = Board(problem, jobs)
    for job in jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    first = max(task.release, problem.now)
    found = []
    for day, span in enumerate(board.days):
        if span.end <= first:
            continue
        later = span_mask(max(0, first - span.start), span.end - span.start)
        masks = [
            starts_of(board.free[day][n] & later, _stretch(task))
            for n, p in enumerate(problem.people)
            if not p.minor and fit(p) and (everybody or task.eligible is None or p.id in task.eligible)
        ]
        most = 0
        while most < len(masks) and at_least(most + 1, masks):
            most += 1
        found.append((most, span.start))
    return found


def _independent(problem: Problem, schedule: Schedule, task: Task) -> Reason | None:
    did = {p for s in schedule.stints if s.task in task.independent_of for p in (*s.team, *s.joiners)}
    skills = {need.skill for need in task.needs}
    left = [
        p
        for p in problem.people
        if not p.minor
        and p.id not in did
        and (task.eligible is None or p.id in task.eligible)
        and (not skills or skills & p.skills)
    ]
    if did and len(left) < task.people:
        return Reason(
            "independent",
            task.id,
            {"task": task.independent_of[0], "wanted": task.people, "count": len(left)},
        )
    return None


def _relieved_by(problem: Problem, task: Task, tries: list[int]) -> tuple[str, ...]:
    """Kinds of want that are in its way: without any of this kind in the whole plan, the task found a place."""
    plain = [replace(t, hazards=frozenset()) for t in problem.tasks]
    without = {
        "tools": replace(problem, tools={}, tasks=tuple(replace(t, tools=()) for t in problem.tasks)),
        "zones": replace(problem, zones={}),
        "hazards": replace(problem, tasks=tuple(plain)),
        "lags": replace(
            problem,
            tasks=tuple(replace(t, after=tuple(replace(a, lag=0) for a in t.after)) for t in problem.tasks),
        ),
        "parts": replace(problem, tasks=tuple(replace(t, release=0) for t in problem.tasks)),
        "checks": replace(problem, tasks=tuple(replace(t, independent_of=()) for t in problem.tasks)),
        "other_work": _by_itself(problem, task),
    }
    found = []
    for kind, changed in without.items():
        if tries[0] <= 0:
            break
        tries[0] -= 1
        if task.id not in list_schedule(changed).unplaced:
            found.append(kind)
    return tuple(found)


def _remedies(problem: Problem, task: Task, reason: Reason, tries: list[int]) -> Iterator[Remedy]:
    """Changes that gave the task a place when they were tried, smallest first."""
    found = 0
    for remedy, changed in changes(problem, task, reason) if tries[0] > 0 else ():
        if found >= _REMEDIES or tries[0] <= 0:
            return
        if not _fits(_by_itself(changed, next(one for one in changed.tasks if one.id == task.id))):
            continue  # not even with nothing else going on: that is known in a hundredth of a whole plan's time
        tries[0] -= 1
        plan = list_schedule(changed)
        if task.id not in plan.unplaced and not check(changed, plan):
            found += 1
            yield remedy


def changes(problem: Problem, task: Task, reason: Reason) -> Iterator[tuple[Remedy, Problem]]:
    """Changes worth a try, each with the problem as it would be; smallest first of its kind."""
    if reason.code in ("tool", "zone"):
        what = str(reason.about["what"])
        wanted = int(str(reason.about["wanted"]))
        if reason.code == "tool":
            changed = replace(problem, tools={**problem.tools, what: wanted})
        else:
            changed = replace(problem, zones={**problem.zones, what: wanted})
        yield Remedy("capacity", {"what": what, "count": wanted}), changed
    if reason.code == "no_date":
        known = tuple(
            replace(t, undated=tuple(part for part in t.undated if part not in task.undated))
            for t in problem.tasks
        )
        yield Remedy("date", {"parts": task.undated}), replace(problem, tasks=known)
        return
    if reason.code == "holders":
        yield (
            Remedy("passed_on", {"task": task.id}),
            changed_task(problem, replace(task, holders=frozenset())),
        )
    if task.waits_for is not None:
        for day in reversed(problem.days):
            if problem.now <= day.start < task.release:
                early = changed_task(problem, replace(task, release=day.start))
                if task.id not in list_schedule(early).unplaced:
                    yield Remedy("part", {"part": task.waits_for, "slots": task.release - day.start}), early
                    break
    days = [day for day in problem.days if day.end > max(problem.now, task.release)]
    short = _number(reason, "wanted") - max(_number(reason, "count"), _number(reason, "most"))
    if reason.code == "too_long" and not task.lift and not task.not_last:
        part = min(task.duration, _STRETCH_MIN // problem.slot_min)
        stretches = Remedy("stretches", {"task": task.id, "slots": part})
        yield stretches, changed_task(problem, replace(task, part=part))
    nobody = reason.code in ("too_few", "skill")  # then longer hours bring nobody
    named = reason.about.get("days")
    if isinstance(named, tuple) and named:
        days = [d for d in days if str(d.start) in named] or days
    for more in () if nobody else (6, 12, 24, 48):
        for day in days[:_DAYS_NAMED]:
            yield Remedy("hours", {"day": day.start, "slots": more}), _longer(problem, day, more)
    skills = frozenset(need.skill for need in task.needs)
    skill = str(reason.about.get("skill", "")) or (next(iter(skills)) if len(skills) == 1 else "")
    more_people = max(1, short)
    helps = more_people <= _HELPERS and reason.code != "too_long"
    for day in days[:_DAYS_NAMED] if helps else ():
        able = frozenset({skill}) if skill else skills
        helpers = tuple(Person("+" * n, (day,), able) for n in range(1, more_people + 1))
        asked = task.eligible if task.eligible is None else task.eligible | {p.id for p in helpers}
        changed = changed_task(
            replace(problem, people=(*problem.people, *helpers)), replace(task, eligible=asked)
        )
        others = tuple(
            t
            if t.id == task.id or t.eligible is not None
            else replace(t, eligible=frozenset(p.id for p in problem.people))
            for t in changed.tasks
        )
        yield (
            Remedy("person", {"day": day.start, "at": day.start, "skill": skill, "count": more_people}),
            replace(changed, tasks=others),
        )
    if nobody or reason.code == "too_long":
        return
    week = 7 * 24 * 60 // problem.slot_min
    yield Remedy("horizon", {"days": 7}), _week_more(problem, week)


def _number(reason: Reason, name: str) -> int:
    found = reason.about.get(name, 0)
    return found if isinstance(found, int) else 0


def changed_task(problem: Problem, task: Task) -> Problem:
    """The problem with this task instead of the one of its name."""
    return replace(problem, tasks=tuple(task if t.id == task.id else t for t in problem.tasks))


def _longer(problem: Problem, day: Span, more: int) -> Problem:
    """Everybody who is in that day stays longer, as far as the next day lets them."""
    following = min((d.start for d in problem.days if d.start > day.start), default=day.end + more)
    end = min(day.end + more, following)
    people = tuple(
        replace(p, hours=tuple(
            Span(s.start, min(s.end + more, end)) if s == last else s for s in p.hours
        ))
        if (last := max((s for s in p.hours if day.start <= s.start < day.end), default=None)) is not None
        else p
        for p in problem.people
    )  # fmt: skip
    days = tuple(Span(d.start, end) if d == day else d for d in problem.days)
    horizon = problem.horizon and max(problem.horizon, end)
    return replace(problem, people=people, days=days, horizon=horizon)


def _week_more(problem: Problem, week: int) -> Problem:
    """The last week's hours once more."""
    if not problem.days:
        return replace(problem, horizon=problem.horizon + week)
    last = problem.days[-1].end

    def again(spans: tuple[Span, ...]) -> tuple[Span, ...]:
        return spans + tuple(Span(s.start + week, s.end + week) for s in spans if s.start > last - week)

    people = tuple(replace(p, hours=again(p.hours)) for p in problem.people)
    return replace(problem, people=people, days=again(problem.days), horizon=0)
