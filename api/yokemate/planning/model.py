"""The constraint model of a problem. The only file that imports the solver's library, and only when it is used.

Time in the model is working time: build days laid end to end, so that bounds are not watered down by closed hours. A
job never crosses a day's end, since its start stays where the whole job fits into one day. A lag runs on the calendar,
so what it means in working time depends on the end of what came before: one literal per stretch of ends that are alike.

Two forms: with people (a literal for each job and person, no person twice at once), or by head-counts only (a
relaxation: good for a bound, not a plan).
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import Any

from yokemate.planning.board import Board
from yokemate.planning.counting import at_least, runs, span_mask, starts_of
from yokemate.planning.jobs import Job
from yokemate.planning.problem import Problem, Task

Places = dict[int, tuple[int, int, tuple[int, ...]]]  # job -> start, end, team by number; calendar slots


def available() -> bool:
    """Whether the solver's library is there. One that is there and can't be loaded (no memory left) is an ImportError."""
    try:
        import ortools.sat.python.cp_model  # noqa: F401
    except ModuleNotFoundError:
        return False
    return True


class Model:
    """One problem with some of its jobs. `start`: a plan for exactly these, as warm start and as upper bound; None: all
    of them are wanted, anywhere before the end. `nowhere`: a job has no start at all, whatever else is going on. `tied`: work
    that is taken up again stays with the people whom the warm start has in both parts, so that no status proves anything of plans
    in which it does not."""

    def __init__(
        self, problem: Problem, jobs: list[Job], start: Places | None, with_people: bool = True
    ) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.problem, self.jobs = problem, jobs
        self.start: Places = start or {}
        self.with_people = with_people
        self.nowhere = self.tied = False
        self.board = Board(problem, jobs)
        for job in jobs:
            if job.fixed is not None:
                self.board.put_fixed(job)
        self.days = self.board.days
        self.origin = [0]
        for day in self.days:
            self.origin.append(self.origin[-1] + day.end - day.start)
        self.m = cp_model.CpModel()
        self.free = [j for j in jobs if j.fixed is None and (start is None or j.number in start)]
        self.begin: dict[int, Any] = {}
        self.end: dict[int, Any] = {}
        self.span: dict[int, Any] = {}
        self.does: dict[tuple[int, int], Any] = {}
        self._frees: dict[tuple[int, int, int], int] = {}
        self._teams: dict[tuple[Any, ...], int] = {}
        self._persons: dict[tuple[int, int], Any] = {}
        self._lags: dict[int, list[tuple[int, int, int, int]]] = {}
        self.longest = self._cap() if start is not None else self.origin[-1]
        for job in self.free:
            self._job(job)
        self._order()
        self._shared()
        self._heads()
        if with_people:
            self._people()
        self.finish = self.m.new_int_var(0, self.longest, "finish")
        fixed_end = max((self.work(j.fixed.start + j.length) for j in jobs if j.fixed is not None), default=0)
        self.m.add(self.finish >= min(fixed_end, self.longest))
        for job in self.free:
            self.m.add(self.finish >= self.end[job.number])
        if start is not None:
            self._hint()

    # -- time

    def work(self, slot: int) -> int:
        """A calendar slot in working time, as `worked`, but by search: it is asked thousands of times."""
        d = self.board.day_of(slot)
        return self.origin[d] + (max(0, slot - self.days[d].start) if d < len(self.days) else 0)

    def calendar(self, at: int) -> int:
        """The calendar slot of a start in working time."""
        day = self._day_worked(at)
        return self.days[day].start + at - self.origin[day]

    def _day_worked(self, at: int) -> int:
        return min(bisect_right(self.origin, at), len(self.days)) - 1

    def day_end(self, at: int) -> int:
        """The end of the build day that a moment of working time lies in; of the day before where it is a day's first."""
        return self.origin[min(bisect_left(self.origin, at), len(self.days))]

    def days_for(self, job: Job) -> list[int]:
        """The days on which a job may begin, by number."""
        bounds = list(self.begin[job.number].proto.domain)  # first, last, first, last
        found: set[int] = set()
        for low, high in zip(bounds[::2], bounds[1::2], strict=True):
            found.update(range(self._day_worked(low), self._day_worked(high) + 1))
        return sorted(found)

    def _cap(self) -> int:
        """No job ends later than a little after the start plan's finish; with no gates and nothing told, than it."""
        finish = max((self.work(end) for _, end, _ in self.start.values()), default=0)
        trades = bool(self.problem.gates) or self.problem.last is not None
        slack = finish // 10 + 1 if trades and self.with_people else 0
        return min(self.origin[-1], finish + slack)

    # -- jobs

    def _team_starts(self, job: Job, length: int) -> Any:
        """Where a job of this length may begin: it has room, and enough people are free together for all of it."""
        if job.task.undated:
            return self.cp.Domain.from_intervals([])
        ready = max(job.task.release, self.problem.now)
        for before, lag in job.before:
            if self.jobs[before].fixed is not None:
                ready = max(ready, self.board.placed[before][1] + lag)
        barred = self.board.barred_from(job)
        asked = tuple(p for p in job.people if p not in barred)
        spans: list[list[int]] = []
        for d, day in enumerate(self.days):
            if day.end <= ready or self.origin[d] >= self.longest:
                continue
            mask = starts_of(self.board.possible(job, d), length)
            if mask and job.task.people:
                mask &= self._together(d, length, job.task, asked)
            mask &= span_mask(max(0, ready - day.start), self.longest - self.origin[d] - length + 1)
            spans += [[self.origin[d] + a, self.origin[d] + b - 1] for a, b in runs(mask)]
        return self.cp.Domain.from_intervals(spans)

    def _together(self, d: int, length: int, task: Task, asked: tuple[int, ...]) -> int:
        """Starts on a day from which enough of those who are asked are free, in all and by skill."""
        key = (d, length, task.people, task.needs, task.holders, asked)
        if key not in self._teams:
            crew = self.problem.people
            free = {p: self._free_starts(d, p, length) for p in asked}
            mask = at_least(task.people, free.values())
            for need in task.needs:
                mask &= at_least(need.count, (m for p, m in free.items() if need.skill in crew[p].skills))
            for p, person in enumerate(crew):
                if person.id in task.holders:
                    mask &= free.get(p, 0)
            self._teams[key] = mask
        return self._teams[key]

    def _free_starts(self, d: int, person: int, length: int) -> int:
        key = (d, person, length)
        if key not in self._frees:
            self._frees[key] = starts_of(self.board.free[d][person], length)
        return self._frees[key]

    def _person_starts(self, person: int, length: int) -> Any:
        """Where a person is free for this long; when the job itself may begin is another matter."""
        key = (person, length)
        if key not in self._persons:
            self._persons[key] = self.cp.Domain.from_intervals(
                [
                    [self.origin[d] + a, self.origin[d] + b - 1]
                    for d in range(len(self.days))
                    if self.origin[d] < self.longest
                    for a, b in runs(self._free_starts(d, person, length))
                ]
            )
        return self._persons[key]

    def _job(self, job: Job) -> None:
        m, n = self.m, job.number
        domains = [self._team_starts(job, length) for length, _ in job.lengths]
        whole = domains[0] if len(domains) == 1 else domains[0].union_with(domains[1])
        self.nowhere = self.nowhere or whole.is_empty()
        self.begin[n] = m.new_int_var_from_domain(whole, f"s{n}")
        if len(job.lengths) == 1 or not self.with_people:
            length = job.lengths[0][0]
            self.end[n] = self.begin[n] + length
            self.span[n] = m.new_fixed_size_interval_var(self.begin[n], length, f"i{n}")
            if len(job.lengths) > 1:
                domains = domains[:1]
            learner = None
        else:
            learner = m.new_bool_var(f"l{n}")
            short, long = job.lengths[0][0], job.lengths[1][0]
            size = m.new_int_var_from_domain(self.cp.Domain.from_values([short, long]), f"d{n}")
            m.add(size == long).only_enforce_if(learner)
            m.add(size == short).only_enforce_if(~learner)
            self.end[n] = m.new_int_var(0, self.longest, f"e{n}")
            self.span[n] = m.new_interval_var(self.begin[n], size, self.end[n], f"i{n}")
            m.add_linear_expression_in_domain(self.begin[n], domains[0]).only_enforce_if(~learner)
            m.add_linear_expression_in_domain(self.begin[n], domains[1]).only_enforce_if(learner)
        if not self.with_people or not job.task.people:
            return
        crew = self.problem.people
        barred = self.board.barred_from(job)
        asked = [p for p in job.people if p not in barred]
        for p in asked:
            x = self.does[n, p] = m.new_bool_var(f"x{n}.{p}")
            unskilled = not any(need.skill in crew[p].skills for need in job.task.needs)
            for index, (length, learners) in enumerate(job.lengths):
                if learner is not None and unskilled and not learners:
                    m.add_implication(x, learner)
                    continue
                condition = [x] if learner is None else [x, learner if learners else ~learner]
                m.add_linear_expression_in_domain(
                    self.begin[n], self._person_starts(p, length)
                ).only_enforce_if(condition)
        if (
            learner is not None
        ):  # it takes longer because of somebody, so that a plan told again is as long as it was
            able = {need.skill for need in job.task.needs}
            m.add_bool_or(~learner, *(self.does[n, p] for p in asked if not able & crew[p].skills))
        m.add(sum(self.does[n, p] for p in asked) == job.task.people)
        for p in job.holders & set(asked):  # of one who may not be asked there is no start: `_together`
            m.add(self.does[n, p] == 1)
        if len(job.task.needs) == 1:
            need = job.task.needs[0]
            m.add(sum(self.does[n, p] for p in asked if need.skill in crew[p].skills) >= need.count)
        elif job.task.needs:
            seats = {
                (k, p): m.new_bool_var(f"y{n}.{k}.{p}")
                for k, need in enumerate(job.task.needs)
                for p in asked
                if need.skill in crew[p].skills
            }
            for k, need in enumerate(job.task.needs):
                m.add(sum(v for (kk, _), v in seats.items() if kk == k) == need.count)
            for p in asked:
                m.add(sum(v for (_, pp), v in seats.items() if pp == p) <= self.does[n, p])

    def _order(self) -> None:
        for job in self.free:
            for follower, lag in job.followers:
                fixed = self.jobs[follower].fixed
                kept = self.start.get(job.number)
                if fixed is not None and kept is not None and kept[1] + lag <= fixed.start:
                    self.m.add(self.end[job.number] <= self.work(fixed.start - lag))
            for before, lag in job.before:
                if before not in self.begin:
                    continue
                if not lag or not self.problem.days:
                    self.m.add(self.begin[job.number] >= self.end[before] + lag)
                    continue
                for literal, shift, at_least_then in self._lag(before, lag):
                    if shift >= 0:
                        self.m.add(self.begin[job.number] >= self.end[before] + shift).only_enforce_if(
                            literal
                        )
                    else:
                        self.m.add(self.begin[job.number] >= at_least_then).only_enforce_if(literal)

    def _lag(self, before: int, lag: int) -> list[tuple[Any, int, int]]:
        """Ends of a job that a lag treats alike: (literal, shift in working time or -1, else a constant)."""
        cuts: list[tuple[Any, int, int]] = []
        for low, high, shift, at in self._alike(lag):
            if low > self.longest:
                break
            literal = self.m.new_bool_var("")
            self.m.add_linear_constraint(self.end[before], low, high).only_enforce_if(literal)
            cuts.append((literal, shift, at))
        self.m.add_exactly_one(literal for literal, _, _ in cuts)
        return cuts

    def _alike(self, lag: int) -> list[tuple[int, int, int, int]]:
        """Stretches of ends in working time that a lag treats alike: first, last, shift or -1, else a constant."""
        if lag not in self._lags:
            pieces: list[tuple[int, int, int, int]] = []
            for d, day in enumerate(self.days):
                fresh = len(pieces)
                for end in range(day.start + 1, day.end + 1):
                    here, then = self.origin[d] + end - day.start, end + lag
                    at, other = self.work(then), self.board.day_of(then)
                    inside = other < len(self.days) and self.days[other].start <= then
                    shift = at - here if inside else -1
                    last = pieces[-1] if len(pieces) > fresh else None
                    if last is not None and last[2] == shift and (shift >= 0 or last[3] == at):
                        pieces[-1] = (last[0], here, shift, last[3])
                    else:
                        pieces.append((here, here, shift, at))
            self._lags[lag] = pieces
        return self._lags[lag]

    # -- what is shared

    def _fixed_span(self, job: Job) -> Any | None:
        start, end, _ = self.board.placed[job.number]
        a, b = self.work(start), self.work(end)
        return self.m.new_fixed_size_interval_var(a, b - a, "") if b > a else None

    def _shared(self) -> None:
        m = self.m
        held: dict[tuple[str, str], list[tuple[Job, int]]] = {}
        for job in self.jobs:
            if job.fixed is None and job.number not in self.begin:
                continue
            for use in job.task.tools:
                held.setdefault(("tool", use.tool), []).append((job, use.count))
            if job.task.zone is not None and job.task.people:
                held.setdefault(("zone", job.task.zone), []).append((job, job.task.people))
        for (kind, what), uses in held.items():
            most = (self.problem.zones if kind == "zone" else self.problem.tools).get(what)
            loose = [(job, count) for job, count in uses if job.fixed is None]
            if most is None or sum(count for _, count in loose) <= 0:
                continue
            if all(2 * count > most for _, count in loose):
                m.add_no_overlap([self.span[job.number] for job, _ in loose])
                continue
            spans, amounts = [self.span[job.number] for job, _ in loose], [count for _, count in loose]
            settled = [(self._fixed_span(job), count) for job, count in uses if job.fixed is not None]
            spans += [span for span, _ in settled if span is not None]
            amounts += [min(count, most) for span, count in settled if span is not None]
            if not any(span is not None for span, _ in settled):
                m.add_cumulative(spans, amounts, most)
            else:
                m.add_cumulative(spans, amounts, max(most, sum(c for s, c in settled if s is not None)))
                m.add_cumulative(spans[: len(loose)], amounts[: len(loose)], most)
        dangerous = [job for job in self.free if job.task.hazards]
        for k, a in enumerate(dangerous):
            for b in dangerous[k + 1 :]:
                if a.task.id != b.task.id and any(
                    frozenset((x, y)) in self.problem.never_beside
                    for x in a.task.hazards
                    for y in b.task.hazards
                ):
                    m.add_no_overlap([self.span[a.number], self.span[b.number]])

    def _heads(self) -> None:
        """No more people at work than are in, in all and by skill: implied by the people, but it shows the solver more."""
        skills = sorted({need.skill for job in self.free for need in job.task.needs})
        crew = self.problem.people
        for skill in (None, *skills):
            among = [n for n, p in enumerate(crew) if not p.minor and (skill is None or skill in p.skills)]
            uses = [
                (
                    job,
                    job.task.people
                    if skill is None
                    else sum(x.count for x in job.task.needs if x.skill == skill),
                )
                for job in self.free
            ]
            uses = [(job, count) for job, count in uses if count]
            if not uses or not among:
                continue
            spans, amounts = [self.span[job.number] for job, _ in uses], [count for _, count in uses]
            for d, day in enumerate(self.days):
                if self.origin[d] >= self.longest:
                    break
                whole = span_mask(0, day.end - day.start)
                away = [whole & ~self.board.free[d][n] for n in among]
                level = 1
                while level <= len(among) and (mask := at_least(level, away)):
                    for a, b in runs(mask):
                        spans.append(self.m.new_fixed_size_interval_var(self.origin[d] + a, b - a, ""))
                        amounts.append(1)
                    level += 1
            self.m.add_cumulative(spans, amounts, len(among))

    def _people(self) -> None:
        for p in range(len(self.problem.people)):
            spans = []
            for job in self.free:
                x = self.does.get((job.number, p))
                if x is not None:
                    size = self.span[job.number].size_expr() if len(job.lengths) > 1 else job.length
                    spans.append(
                        self.m.new_optional_interval_var(
                            self.begin[job.number], size, self.end[job.number], x, ""
                        )
                    )
            if len(spans) > 1:
                self.m.add_no_overlap(spans)
        for job in self.free:
            self._tie(job)
            for other in job.apart:
                if other > job.number:
                    for p in range(len(self.problem.people)):
                        if (job.number, p) in self.does and (other, p) in self.does:
                            self.m.add_at_most_one(self.does[job.number, p], self.does[other, p])

    def _tie(self, job: Job) -> None:
        if job.task.goes_on is None or job.part_of is not None or job.goes_on not in self.begin:
            return
        if self.start and set(self.start[job.goes_on][2]) == set(self.start[job.number][2]):
            self.tied = True
            for p in range(len(self.problem.people)):
                pair = [self.does[n, p] for n in (job.goes_on, job.number) if (n, p) in self.does]
                if len(pair) == 2:
                    self.m.add(pair[0] == pair[1])

    def _hint(self) -> None:
        for job in self.free:
            start, _end, team = self.start[job.number]
            self.m.add_hint(self.begin[job.number], self.work(start))
            for p in range(len(self.problem.people)):
                if (job.number, p) in self.does:
                    self.m.add_hint(self.does[job.number, p], p in team)
