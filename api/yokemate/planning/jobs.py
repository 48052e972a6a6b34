"""A problem made ready for planning: tasks cut into parts that are done in one go, by number, with who may do them."""

from __future__ import annotations

from dataclasses import dataclass, field

from yokemate.planning.problem import Fixed, Problem, Schedule, Span, Stint, Task


@dataclass(slots=True)
class Job:
    """A task, or one part of a task that may be stopped. lengths: (slots, learners allowed), shortest first."""

    number: int
    task: Task
    length: int
    lengths: tuple[tuple[int, bool], ...]
    people: tuple[int, ...]  # who may be asked, by number
    holders: frozenset[int]  # who of them must be in it
    fixed: Fixed | None
    before: list[tuple[int, int]] = field(default_factory=list)  # (job, lag)
    followers: list[tuple[int, int]] = field(default_factory=list)
    apart: list[int] = field(default_factory=list)  # jobs with whose people it may share nobody
    checks: list[int] = field(default_factory=list)  # jobs that want to begin soon after this one
    soon: int | None = None
    part_of: int | None = None  # the part before this one
    goes_on: int | None = None  # the work that it takes up again: the part before, or another task's last one
    due: int = 0  # latest finish in working time, for the order


def days_of(problem: Problem) -> tuple[Span, ...]:
    if problem.days:
        return problem.days
    return (Span(0, max(problem.horizon, 1)),)


def end_of(problem: Problem) -> int:
    return problem.horizon or (problem.days[-1].end if problem.days else 0)


def worked(days: tuple[Span, ...], slot: int) -> int:
    """Slots of build days before this one: the calendar without its closed hours."""
    return sum(min(slot, day.end) - day.start for day in days if day.start < slot)


def parts_of(task: Task) -> list[int]:
    """The stretches a task is cut into: the fewest slots each that are worth coming for, the last takes the rest.

    Where not all of a team need the skill, somebody may learn in any of them: then they add up to the longer figure.
    """
    if task.part is None or task.fixed is not None:
        return [task.duration]
    learns = task.with_learner is not None and task.people > sum(need.count for need in task.needs)
    total = task.with_learner if learns and task.with_learner is not None else task.duration
    count = max(1, total // task.part)
    return [task.part] * (count - 1) + [total - task.part * (count - 1)]


def jobs_of(problem: Problem) -> list[Job]:
    """All jobs, with arcs between them; a task's parts follow each other."""
    jobs: list[Job] = []
    firsts: dict[str, int] = {}
    lasts: dict[str, int] = {}
    of_task: dict[str, list[int]] = {}
    for task in problem.tasks:
        asked = tuple(
            n
            for n, person in enumerate(problem.people)
            if not person.minor and (task.eligible is None or person.id in task.eligible)
        )
        holders = frozenset(n for n, person in enumerate(problem.people) if person.id in task.holders)
        for index, length in enumerate(parts_of(task)):
            lengths: tuple[tuple[int, bool], ...] = ((length, True),)
            if task.with_learner is not None and task.with_learner != length and task.part is None:
                lengths = ((length, False), (task.with_learner, True))
            job = Job(len(jobs), task, length, lengths, asked, holders, task.fixed)
            if index:
                job.part_of = job.goes_on = job.number - 1
                job.before.append((job.number - 1, 0))
                jobs[-1].followers.append((job.number, 0))
            else:
                firsts[task.id] = job.number
            lasts[task.id] = job.number
            of_task.setdefault(task.id, []).append(job.number)
            jobs.append(job)
    for task in problem.tasks:
        first = jobs[firsts[task.id]]
        if task.goes_on in lasts:
            first.goes_on = lasts[task.goes_on]
        for after in task.after:
            last = jobs[lasts[after.task]]
            first.before.append((last.number, after.lag))
            last.followers.append((first.number, after.lag))
            if after.soon is not None:
                last.checks.append(first.number)
                first.soon = after.lag + after.soon
        for other in task.independent_of:
            for a in of_task[task.id]:
                for b in of_task[other]:
                    jobs[a].apart.append(b)
                    jobs[b].apart.append(a)
    _set_due(problem, jobs)
    return jobs


def in_order(jobs: list[Job]) -> list[int]:
    """Numbers so that each comes after what it waits for."""
    waits = [len(job.before) for job in jobs]
    ready = [job.number for job in jobs if not job.before]
    order = []
    while ready:
        number = ready.pop()
        order.append(number)
        for follower, _ in jobs[number].followers:
            waits[follower] -= 1
            if not waits[follower]:
                ready.append(follower)
    return order


def _set_due(problem: Problem, jobs: list[Job]) -> None:
    """The latest finish that keeps the gates, by the longest chain behind a job; of the end where no gate waits."""
    days = days_of(problem)
    far = worked(days, end_of(problem))
    wanted: dict[str, int] = {}
    for gate in problem.gates:
        by = far if gate.wanted is None else worked(days, gate.wanted)
        for task in gate.tasks:
            wanted[task] = min(by, wanted.get(task, far))
    for number in reversed(in_order(jobs)):
        job = jobs[number]
        job.due = wanted.get(job.task.id, far)
        if job.fixed is not None:
            job.due = worked(days, job.fixed.start + job.length)
        for follower, _ in job.followers:
            job.due = min(job.due, jobs[follower].due - jobs[follower].length)


def stints_of(jobs: list[Job], placed: dict[int, tuple[int, int, tuple[str, ...]]]) -> tuple[Stint, ...]:
    """Jobs as stints; parts that go on without a break by the same people are one."""
    stints: list[Stint] = []
    for number in sorted(placed):
        start, end, team = placed[number]
        task = jobs[number].task.id
        last = stints[-1] if stints else None
        if last is not None and last.task == task and last.end == start and last.team == team:
            stints[-1] = Stint(task, last.start, end, team)
        else:
            stints.append(Stint(task, start, end, team))
    return tuple(sorted(stints, key=lambda s: (s.start, s.task)))


def place_of_fixed(job: Job, fixed: Fixed) -> tuple[int, int, tuple[str, ...]]:
    """Start, end and team of what is settled."""
    return fixed.start, fixed.start + job.length, tuple(sorted(fixed.team))


def ends_of(schedule: Schedule) -> dict[str, int]:
    """When each task is over: the end of its last stint."""
    ends: dict[str, int] = {}
    for stint in schedule.stints:
        ends[stint.task] = max(ends.get(stint.task, 0), stint.end)
    return ends


def last_places(jobs: list[Job], last: Schedule) -> dict[int, tuple[int, tuple[str, ...]]]:
    """Where each job was in the last plan: start and team, as far as its task was in it."""
    stints: dict[str, list[Stint]] = {}
    for stint in sorted(last.stints, key=lambda s: s.start):
        stints.setdefault(stint.task, []).append(stint)
    places: dict[int, tuple[int, tuple[str, ...]]] = {}
    gone: dict[str, int] = {}
    for job in jobs:
        skip = gone.get(job.task.id, 0)
        gone[job.task.id] = skip + job.length
        for stint in stints.get(job.task.id, ()):
            if skip < stint.end - stint.start:
                places[job.number] = (stint.start + skip, stint.team)
                break
            skip -= stint.end - stint.start
    return places
