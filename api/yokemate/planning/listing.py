"""The simple method: jobs one after the other, each at the first time at which everything it needs is free.

A plan in milliseconds without any solver; also the solver's start and what stands when the solver finds nothing.
All is kept per day as bit masks, one bit a slot.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable

from yokemate.planning.attend import attend
from yokemate.planning.counting import Meter, at_least, span_mask, starts_of
from yokemate.planning.figures import figures, rank
from yokemate.planning.jobs import Job, days_of, end_of, jobs_of, last_places, stints_of
from yokemate.planning.problem import Problem, Schedule

Place = tuple[int, int, tuple[int, ...]]  # start, end, team by number
_LATER = 6  # how many later times are tried so that a countersign can follow soon


def list_schedule(
    problem: Problem, passes: int = 1, seed: int = 0, should_stop: Callable[[], bool] | None = None
) -> Schedule:
    """A plan that keeps every rule, and what found no place.

    passes: tries with slightly different orders; the best by the objectives stands. With `problem.last`, the first try
    keeps everybody's time and team wherever that still holds; a plan that still holds as a whole comes back as it was.
    """
    jobs = jobs_of(problem)
    best = _one_pass(problem, jobs, None)
    best_rank = rank(problem, figures(problem, best))
    state = seed * 2 + 1
    for n in range(1, passes):
        if should_stop is not None and should_stop():
            break
        if problem.last is not None and not _worth_more(best_rank):
            break
        shifts = []
        for _ in jobs:
            state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
            shifts.append((state >> 33) / 2**31)
        found = _one_pass(problem, jobs, shifts)
        found_rank = rank(problem, figures(problem, found))
        if found_rank < best_rank:
            best, best_rank = found, found_rank
    return best


def _worth_more(found: tuple[int, ...]) -> bool:
    return any(found[:2]) or found[2] > 0


def _one_pass(problem: Problem, jobs: list[Job], shifts: list[float] | None) -> Schedule:
    board = Board(problem, jobs)
    kept = last_places(jobs, problem.last) if problem.last is not None else {}
    keep = shifts is None
    spread = max(1, sum(job.length for job in jobs) // 20)
    heads = {n: (kept[n][0] if keep and n in kept else None) for n in range(len(jobs))}

    def key(number: int) -> tuple[float, float, int]:
        job = jobs[number]
        shift = shifts[number] * spread if shifts is not None else 0.0
        told = heads[number]
        return (
            0.0 if told is not None else 1.0,
            float(told) if told is not None else job.due - job.length + shift,
            number,
        )

    waits = [len(job.before) for job in jobs]
    for job in jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    heap = [key(job.number) for job in jobs if not job.before]
    heapq.heapify(heap)
    lost: set[int] = set()
    while heap:
        _, _, number = heapq.heappop(heap)
        job = jobs[number]
        if job.fixed is None and number not in board.placed and number not in lost:
            if any(before in lost for before, _ in job.before):
                lost.add(number)
            else:
                place = board.find_as_told(job, kept[number]) if number in kept else None
                if place is None:
                    place = _find_with_checks(board, job)
                if place is None:
                    lost.add(number)
                else:
                    board.put(job, place)
        for follower, _ in job.followers:
            waits[follower] -= 1
            if not waits[follower]:
                heapq.heappush(heap, key(follower))
    names = [person.id for person in problem.people]
    gone = {jobs[n].task.id for n in lost}
    places = {
        n: (start, end, tuple(sorted(names[p] for p in team)))
        for n, (start, end, team) in board.placed.items()
        if jobs[n].task.id not in gone
    }
    for job in jobs:
        if job.fixed is not None:
            places[job.number] = (
                job.fixed.start,
                job.fixed.start + job.length,
                tuple(sorted(job.fixed.team)),
            )
    return attend(
        problem, Schedule(stints_of(jobs, places), tuple(t.id for t in problem.tasks if t.id in gone))
    )


def _find_with_checks(board: Board, job: Job) -> Place | None:
    """The first time; or a little later one, where only then a check can follow soon."""
    first = place = board.find(job)
    checks = [board.jobs[c] for c in job.checks]
    checks = [
        c
        for c in checks
        if c.fixed is None and all(b == job.number or b in board.placed for b, _ in c.before)
    ]
    for _ in range(_LATER):
        if place is None or not checks:
            break
        board.put(job, place)
        wait = 0
        for check in checks:
            then = board.find(check)
            if then is not None and check.soon is not None:
                wait = max(wait, then[0] - place[1] - check.soon)
        board.undo(job)
        if wait <= 0:
            return place
        place = board.find(job, place[0] + wait)
    return first


class Board:
    """What is taken so far, per day."""

    def __init__(self, problem: Problem, jobs: list[Job]) -> None:
        self.problem, self.jobs = problem, jobs
        self.days = days_of(problem)
        self.end = end_of(problem)
        self.placed: dict[int, Place] = {}
        self.number = {person.id: n for n, person in enumerate(problem.people)}
        self.enemies: dict[str, set[str]] = {}
        for pair in problem.never_beside:
            tags = sorted(pair)
            self.enemies.setdefault(tags[0], set()).add(tags[-1])
            self.enemies.setdefault(tags[-1], set()).add(tags[0])
        self.sizes = [day.end - day.start for day in self.days]
        self.open = [
            span_mask(max(0, problem.now - day.start), min(day.end, self.end) - day.start)
            for day in self.days
        ]
        self.here = [[0] * len(problem.people) for _ in self.days]
        for n, person in enumerate(problem.people):
            for day_number, day in enumerate(self.days):
                for span in person.hours:
                    if span.start < day.end and span.end > day.start:
                        self.here[day_number][n] |= span_mask(
                            max(span.start, day.start) - day.start, min(span.end, day.end) - day.start
                        )
        self.free = [[mask & self.open[d] for mask in day] for d, day in enumerate(self.here)]
        self.meters: dict[tuple[str, int], Meter] = {}
        self.dangers: dict[tuple[str, int], list[int]] = {}
        self.enough: dict[tuple[int, int], int] = {}
        self.load = [0] * len(problem.people)
        self.rarity = self._rarity()

    def _rarity(self) -> list[int]:
        """What else only few can do weighs against taking somebody for plain work."""
        wants: dict[str, int] = {}
        for task in self.problem.tasks:
            for need in task.needs:
                wants[need.skill] = wants.get(need.skill, 0) + need.count * task.duration
        has = {s: max(1, sum(s in p.skills and not p.minor for p in self.problem.people)) for s in wants}
        return [
            sum(wants[s] // has[s] for s in person.skills if s in wants) for person in self.problem.people
        ]

    def _day_of(self, slot: int) -> int:
        low, high = 0, len(self.days)
        while low < high:
            middle = (low + high) // 2
            if self.days[middle].end <= slot:
                low = middle + 1
            else:
                high = middle
        return low

    def _meter(self, kind: str, what: str, day: int) -> Meter | None:
        capacity = (self.problem.zones if kind == "zone" else self.problem.tools).get(what)
        if capacity is None:
            return None
        key = (kind + what, day)
        if key not in self.meters:
            self.meters[key] = Meter(capacity, self.sizes[day])
        return self.meters[key]

    def _held(self, job: Job, day: int) -> Iterable[tuple[Meter, int]]:
        for use in job.task.tools:
            meter = self._meter("tool", use.tool, day)
            if meter is not None:
                yield meter, use.count
        if job.task.zone is not None and job.task.people:
            meter = self._meter("zone", job.task.zone, day)
            if meter is not None:
                yield meter, job.task.people

    def _possible(self, job: Job, day: int) -> int:
        """Slots of a day in which the job may run, people apart."""
        mask = self.open[day]
        if job.task.not_last:
            mask &= span_mask(0, self.sizes[day] - self.problem.tired_slots)
        if job.task.present > 1:
            key = (day, job.task.present)
            if key not in self.enough:
                adults = [m for m, p in zip(self.here[day], self.problem.people, strict=True) if not p.minor]
                self.enough[key] = at_least(job.task.present, adults)
            mask &= self.enough[key]
        for meter, amount in self._held(job, day):
            if not mask:
                break
            mask &= meter.room(amount)
        for tag in job.task.hazards:
            for enemy in self.enemies.get(tag, ()):
                for busy in self.dangers.get((enemy, day), ()):
                    mask &= ~busy
        return mask

    def ready(self, job: Job) -> int:
        at = max(job.task.release, self.problem.now)
        for before, lag in job.before:
            if before in self.placed:
                at = max(at, self.placed[before][1] + lag)
        return at

    def _barred(self, job: Job) -> set[int]:
        return {p for other in job.apart if other in self.placed for p in self.placed[other][2]}

    def find(self, job: Job, not_before: int = 0) -> Place | None:
        """The first time and team for a job whose predecessors are placed. None: nowhere before the end.

        Somebody is left who may check it: where the first team would take them all, one after the other is spared.
        """
        place = self._find(job, not_before, None)
        if place is None or not job.apart:
            return place
        starved = self._starved(job, place)
        if not starved:
            return place
        others = [self._find(job, not_before, spared) for spared in starved]
        good = [other for other in others if other is not None and not self._starved(job, other)]
        return min(good, default=place)

    def _starved(self, job: Job, place: Place) -> set[int]:
        """Those of the team of whom one would be needed for a check that else nobody could do."""
        for number in job.apart:
            check = self.jobs[number]
            if number in self.placed or not check.task.people or not check.task.independent_of:
                continue
            barred = self._barred(check)
            fit = {
                p
                for p in check.people
                if p not in barred
                and (
                    not check.task.needs
                    or any(n.skill in self.problem.people[p].skills for n in check.task.needs)
                )
                and any(span.end > place[1] for span in self.problem.people[p].hours)
            }
            if len(fit - set(place[2])) < check.task.people:
                return fit & set(place[2])
        return set()

    def _find(self, job: Job, not_before: int, spared: int | None) -> Place | None:
        ready = max(self.ready(job), not_before)
        barred = self._barred(job)
        people = [p for p in job.people if p not in barred and p != spared]
        if len(people) < job.task.people:
            return None
        for day in range(self._day_of(ready), len(self.days)):
            low = max(ready - self.days[day].start, 0)
            possible = self._possible(job, day)
            found: Place | None = None
            for length, learners in job.lengths:
                starts = starts_of(possible, length) >> low << low
                place = self._find_team(job, day, starts, length, people, learners) if starts else None
                if place is not None and (found is None or place[1] < found[1]):
                    found = place
            if found is not None:
                return found
        return None

    def _find_team(
        self, job: Job, day: int, starts: int, length: int, people: list[int], learners: bool
    ) -> Place | None:
        origin, needs = self.days[day].start, job.task.needs
        if not job.task.people:
            first = (starts & -starts).bit_length() - 1
            return origin + first, origin + first + length, ()
        crew = self.problem.people
        if not learners:
            people = [p for p in people if any(need.skill in crew[p].skills for need in needs)]
        free = {p: starts_of(self.free[day][p], length) & starts for p in people}
        starts = at_least(job.task.people, free.values())
        for need in needs:
            starts &= at_least(need.count, (m for p, m in free.items() if need.skill in crew[p].skills))
        while starts:
            bit = starts & -starts
            team = self.choose(job, [p for p, mask in free.items() if mask & bit])
            if team is not None:
                start = origin + bit.bit_length() - 1
                return start, start + length, team
            starts ^= bit
        return None

    def choose(self, job: Job, people: list[int]) -> tuple[int, ...] | None:
        """A team out of people who are free: whoever went on with it before, then the least needed elsewhere."""
        same: set[int] = set()
        if job.part_of is not None and job.part_of in self.placed:
            same = set(self.placed[job.part_of][2])
        spare = self._checkers(job)
        crew = self.problem.people

        def cost(p: int) -> tuple[bool, bool, int, int]:
            return (p not in same, p in spare, self.rarity[p] + self.load[p], p)

        people = sorted(people, key=cost)
        seats = [need.skill for need in job.task.needs for _ in range(need.count)]
        seated: dict[int, int] = {}  # seat -> person

        def seat(n: int, tried: set[int]) -> bool:
            for p in people:
                if p in tried or seats[n] not in crew[p].skills:
                    continue
                tried.add(p)
                other = next((s for s, q in seated.items() if q == p), None)
                if other is None or seat(other, tried):
                    seated[n] = p
                    return True
            return False

        for n in range(len(seats)):
            if not seat(n, set()):
                return None
        team = set(seated.values())
        for p in people:
            if len(team) >= job.task.people:
                break
            team.add(p)
        return tuple(sorted(team)) if len(team) == job.task.people else None

    def _checkers(self, job: Job) -> set[int]:
        """Who may be wanted for a check of this work, and so had better not do it."""
        return {p for other in job.apart if other not in self.placed for p in self.jobs[other].people}

    def find_as_told(self, job: Job, told: tuple[int, tuple[str, ...]]) -> Place | None:
        """The time and team of the last plan, if they still hold; else its time with another team."""
        start, names = told
        if start < self.ready(job):
            return None
        day = self._day_of(start)
        if day >= len(self.days) or start < self.days[day].start:
            return None
        at = start - self.days[day].start
        barred = self._barred(job)
        team = tuple(sorted(self.number[name] for name in names if name in self.number))
        people = [p for p in job.people if p not in barred]
        possible = self._possible(job, day)
        for length, learners in job.lengths:
            spot = span_mask(at, at + length)
            if possible & spot != spot:
                continue
            free = [p for p in people if self.free[day][p] & spot == spot]
            if not learners:
                free = [
                    p for p in free if any(n.skill in self.problem.people[p].skills for n in job.task.needs)
                ]
            if len(team) == len(names) and set(team) <= set(free) and len(team) == job.task.people:
                if self.choose(job, list(team)) is not None:
                    return start, start + length, team
            other = self.choose(job, free) if job.task.people else ()
            if other is not None and learners:
                return start, start + length, other
        return None

    def put_fixed(self, job: Job) -> None:
        assert job.fixed is not None
        team = tuple(sorted(self.number[name] for name in job.fixed.team if name in self.number))
        self.put(job, (job.fixed.start, job.fixed.start + job.length, team))

    def put(self, job: Job, place: Place) -> None:
        self.placed[job.number] = place
        self._mark(job, place, 1)

    def undo(self, job: Job) -> None:
        self._mark(job, self.placed.pop(job.number), -1)

    def _mark(self, job: Job, place: Place, sign: int) -> None:
        start, end, team = place
        for p in team:
            self.load[p] += sign * (end - start)
        for day in range(self._day_of(start), len(self.days)):
            span = self.days[day]
            if span.start >= end:
                break
            mask = span_mask(max(start, span.start) - span.start, min(end, span.end) - span.start)
            for p in team:
                if sign > 0:
                    self.free[day][p] &= ~mask
                else:
                    self.free[day][p] |= mask
            for meter, amount in self._held(job, day):
                if sign > 0:
                    meter.add(amount, mask)
                else:
                    meter.take(amount, mask)
            for tag in job.task.hazards:
                marks = self.dangers.setdefault((tag, day), [])
                if sign > 0:
                    marks.append(mask)
                else:
                    marks.remove(mask)
