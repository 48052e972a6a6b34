"""What is taken so far, day by day, as bit masks: where a job still finds a time and a team."""

from __future__ import annotations

from collections.abc import Iterable

from yokemate.planning.counting import Meter, at_least, mask_within, span_mask, starts_of
from yokemate.planning.jobs import Job, days_of, end_of, place_of_fixed
from yokemate.planning.problem import Problem

Place = tuple[int, int, tuple[int, ...]]  # start, end, team by number


class Board:
    """Times, people, tools and zones as they fill up. `put` takes a place, `undo` gives it back."""

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
                self.here[day_number][n] = mask_within(person.hours, day)
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

    def day_of(self, slot: int) -> int:
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

    def held(self, job: Job, day: int) -> Iterable[tuple[Meter, int]]:
        for use in job.task.tools:
            meter = self._meter("tool", use.tool, day)
            if meter is not None:
                yield meter, use.count
        if job.task.zone is not None and job.task.people:
            meter = self._meter("zone", job.task.zone, day)
            if meter is not None:
                yield meter, job.task.people

    def possible(self, job: Job, day: int) -> int:
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
        for meter, amount in self.held(job, day):
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

    def barred_from(self, job: Job) -> set[int]:
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
            barred = self.barred_from(check)
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
        if job.task.undated:
            return None
        ready = max(self.ready(job), not_before)
        barred = self.barred_from(job)
        people = [p for p in job.people if p not in barred and p != spared]
        if len(people) < job.task.people:
            return None
        for day in range(self.day_of(ready), len(self.days)):
            low = max(ready - self.days[day].start, 0)
            possible = self.possible(job, day)
            found: Place | None = None
            for length, learners in job.lengths:
                starts = starts_of(possible, length) >> low << low
                place = self._find_team(job, day, starts, length, people, learners) if starts else None
                if place is not None and (found is None or place[1] < found[1]):
                    found = place
            if found is not None:
                return found
        return None

    def find_last(self, job: Job, not_after: int) -> Place | None:
        """The last time and team for a job that must be over by then, whatever comes before it. None: nowhere."""
        ready = max(job.task.release, self.problem.now)
        barred = self.barred_from(job)
        people = [p for p in job.people if p not in barred]
        if len(people) < job.task.people:
            return None
        for day in range(min(self.day_of(not_after - 1), len(self.days) - 1), self.day_of(ready) - 1, -1):
            low = max(ready - self.days[day].start, 0)
            possible = self.possible(job, day)
            found: Place | None = None
            for length, learners in job.lengths:
                high = not_after - length - self.days[day].start
                starts = starts_of(possible, length) & span_mask(low, high + 1)
                place = (
                    self._find_team(job, day, starts, length, people, learners, last=True) if starts else None
                )
                if place is not None and (found is None or place[0] > found[0]):
                    found = place
            if found is not None:
                return found
        return None

    def _find_team(
        self,
        job: Job,
        day: int,
        starts: int,
        length: int,
        people: list[int],
        learners: bool,
        last: bool = False,
    ) -> Place | None:
        origin, needs = self.days[day].start, job.task.needs
        if not job.task.people:
            first = (starts if last else starts & -starts).bit_length() - 1
            return origin + first, origin + first + length, ()
        crew = self.problem.people
        if not learners:
            people = [p for p in people if any(need.skill in crew[p].skills for need in needs)]
        if not job.holders <= set(people):
            return None
        for p in job.holders:
            starts &= starts_of(self.free[day][p], length)
        free = {p: starts_of(self.free[day][p], length) & starts for p in people}
        starts = at_least(job.task.people, free.values())
        for need in needs:
            starts &= at_least(need.count, (m for p, m in free.items() if need.skill in crew[p].skills))
        while starts:
            bit = 1 << starts.bit_length() - 1 if last else starts & -starts
            team = self.choose(job, [p for p, mask in free.items() if mask & bit])
            if team is not None:
                start = origin + bit.bit_length() - 1
                return start, start + length, team
            starts ^= bit
        return None

    def choose(self, job: Job, people: list[int]) -> tuple[int, ...] | None:
        """A team out of people who are free: who has it in hand, whoever went on with it before, then the least needed
        elsewhere. In that order each takes a seat that needs a skill, if those who have one can move up (so that as many
        of the first as can be are seated); who is left takes the plain ones."""
        same: set[int] = set()
        if job.goes_on is not None and job.goes_on in self.placed:
            same = set(self.placed[job.goes_on][2])
        spare = self._checkers(job)
        crew = self.problem.people

        def cost(p: int) -> tuple[bool, bool, bool, int, int]:
            return (p not in job.holders, p not in same, p in spare, self.rarity[p] + self.load[p], p)

        people = sorted(people, key=cost)
        seats = [need.skill for need in job.task.needs for _ in range(need.count)]
        seated: dict[int, int] = {}  # seat -> person

        def seat(p: int, tried: set[int]) -> bool:
            for n, skill in enumerate(seats):
                if n in tried or skill not in crew[p].skills:
                    continue
                tried.add(n)
                if n not in seated or seat(seated[n], tried):
                    seated[n] = p
                    return True
            return False

        for p in people:
            if len(seated) == len(seats):
                break
            seat(p, set())
        if len(seated) < len(seats):
            return None
        team = set(seated.values())
        for p in people:
            if len(team) >= job.task.people:
                break
            team.add(p)
        return tuple(sorted(team)) if len(team) == job.task.people and job.holders <= team else None

    def _checkers(self, job: Job) -> set[int]:
        """Who may be wanted for a check of this work, and so had better not do it."""
        return {p for other in job.apart if other not in self.placed for p in self.jobs[other].people}

    def find_as_told(self, job: Job, told: tuple[int, tuple[str, ...]]) -> Place | None:
        """The time and team of the last plan, if they still hold; else its time with another team."""
        start, names = told
        if start < self.ready(job) or job.task.undated:
            return None
        day = self.day_of(start)
        if day >= len(self.days) or start < self.days[day].start:
            return None
        at = start - self.days[day].start
        barred = self.barred_from(job)
        team = tuple(sorted(self.number[name] for name in names if name in self.number))
        people = [p for p in job.people if p not in barred]
        possible = self.possible(job, day)
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
        start, end, names = place_of_fixed(job, job.fixed)
        self.put(job, (start, end, tuple(sorted(self.number[name] for name in names if name in self.number))))
        for day, span in enumerate(self.days):
            for name in job.fixed.asked if span.start < end and start < span.end else ():
                mask = span_mask(max(start, span.start) - span.start, min(end, span.end) - span.start)
                self.free[day][self.number[name]] &= ~mask

    def put(self, job: Job, place: Place) -> None:
        self.placed[job.number] = place
        self._mark(job, place, 1)

    def undo(self, job: Job) -> None:
        self._mark(job, self.placed.pop(job.number), -1)

    def _mark(self, job: Job, place: Place, sign: int) -> None:
        start, end, team = place
        for p in team:
            self.load[p] += sign * (end - start)
        for day in range(self.day_of(start), len(self.days)):
            span = self.days[day]
            if span.start >= end:
                break
            mask = span_mask(max(start, span.start) - span.start, min(end, span.end) - span.start)
            for p in team:
                if sign > 0:
                    self.free[day][p] &= ~mask
                else:
                    self.free[day][p] |= mask
            for meter, amount in self.held(job, day):
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
