"""Better plans by the solver, never worse ones: the simple method's plan stands until something that was checked is better."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import replace

from yokemate.planning.attend import attend
from yokemate.planning.check import check
from yokemate.planning.figures import figures, rank, told, told_late
from yokemate.planning.jobs import Job, days_of, jobs_of, last_places, place_of_fixed, stints_of, worked
from yokemate.planning.late import path_bound
from yokemate.planning.listing import list_schedule
from yokemate.planning.model import Model, Places, available
from yokemate.planning.objectives import gates_and_finish, late, least_disturbance, trips_load_and_lifts
from yokemate.planning.problem import Figures, Limits, Problem, Progress, Schedule, Solved
from yokemate.planning.solver import solve

Clock = Callable[[], float]


def improve(
    problem: Problem,
    start: Schedule,
    clock: Clock,
    limits: Limits | None = None,
    on_better: Callable[[Progress], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Solved:
    """The best plan found within the limits, `start` at worst (the simple method's, where `start` breaks a rule).
    `clock`: seconds that only go forward, for the limit. `on_better` hears each better one as it is found, and
    `should_stop` is asked about ten times a second, from another thread.

    Fresh: gates and finish first, then trips and lifts with gates and finish held. Against a last plan: least disturbance
    within the gates; a plan that still holds as a whole comes back untouched.
    """
    search = _Search(problem, start, clock, limits or Limits(), on_better, should_stop)
    return search.run()


def energy_bound(problem: Problem) -> int:
    """No plan can finish earlier, in working time: all the work, and each skill's, against the hours of those who have it."""
    days = days_of(problem)
    skills = sorted({need.skill for task in problem.tasks for need in task.needs})
    bound = 0
    for skill in (None, *skills):
        wanted = 0
        for task in problem.tasks:
            heads = task.people if skill is None else sum(n.count for n in task.needs if n.skill == skill)
            if task.fixed is None:
                wanted += heads * task.duration
        spans = sorted(
            (max(s.start, problem.now), s.end)
            for p in problem.people
            if not p.minor and (skill is None or skill in p.skills)
            for s in p.hours
            if s.end > problem.now
        )
        edges = sorted({at for span in spans for at in span})
        for a, b in itertools.pairwise(edges):
            if wanted <= 0:
                break
            there = sum(s <= a and b <= e for s, e in spans)
            if there and there * (b - a) >= wanted:
                bound = max(bound, worked(days, a - (-wanted // there)))
                wanted = 0
            else:
                wanted -= there * (b - a)
    return bound


class _Search:
    def __init__(
        self,
        problem: Problem,
        start: Schedule,
        clock: Clock,
        limits: Limits,
        on_better: Callable[[Progress], None] | None,
        should_stop: Callable[[], bool] | None,
    ) -> None:
        self.problem, self.limits = problem, limits
        self.on_better, self.should_stop = on_better, should_stop
        self.best = start
        self.figures: Figures = figures(problem, start)
        self.used_solver = False
        self.stopped = False
        self.clock, self.begun = clock, clock()
        self.making = 0.0  # seconds that the last model took to make

    def run(self) -> Solved:
        problem = self.problem
        bound = energy_bound(problem)
        if not self.best.unplaced:
            bound = max(bound, path_bound(problem))
        if check(problem, self.best):  # a start that breaks a rule is none
            self.best = list_schedule(problem)
            self.figures = figures(problem, self.best)
        if self._told_holds():
            return Solved(self.best, self.figures, bound, True, False, False)
        passed = list_schedule(problem, self.limits.passes, self.limits.seed, self._passes_over)
        self._offer(passed, "passes")
        if not available() or self._halt() or not any(t.fixed is None for t in problem.tasks):
            return Solved(self.best, self.figures, bound, False, self.stopped, False)
        if problem.last is not None:
            proved = self._close()
        else:
            if self.limits.bound:
                bound = max(bound, self._bound(0.2))
            more = any(task.people or task.lift for task in problem.tasks)
            proved, least = self._gates(more)
            if not problem.gates:
                bound = max(bound, least)
            if more and self._left() > 3 * self.making and not self._halt():
                self._trips()
        self._halt()
        return Solved(
            self.best,
            self.figures,
            min(bound, self.figures.finish_worked),
            proved,
            self.stopped,
            self.used_solver,
        )

    def _halt(self) -> bool:
        self.stopped = self.stopped or (self.should_stop is not None and self.should_stop())
        return self.stopped

    def _left(self, share: float = 1.0) -> float:
        """Seconds of the limit's that are left for a model that is about to be solved: a share of all that is left."""
        return max(0.0, self.begun + self.limits.seconds - self.clock()) * share

    def _passes_over(self) -> bool:
        """The simple method gets a tenth of the time; against a told plan, where it finds more than the solver, a third."""
        share = 0.1 if self.problem.last is None else 0.33
        return self._halt() or self._left() < (1 - share) * self.limits.seconds

    def _told_holds(self) -> bool:
        if self.problem.last is None:
            return False
        found = self.figures
        calm = not (found.unplaced or found.moved or found.reteamed or told_late(self.problem, found))
        return calm and not check(self.problem, self.best)

    def _offer(self, schedule: Schedule, phase: str) -> bool:
        """Takes a plan that is better and keeps every rule."""
        now = figures(self.problem, schedule)
        if rank(self.problem, now) >= rank(self.problem, self.figures) or check(self.problem, schedule):
            return False
        self.best, self.figures = schedule, now
        if self.on_better is not None:
            self.on_better(Progress(schedule, now, phase))
        return True

    # -- phases

    def _model(self, with_people: bool = True) -> tuple[Model, list[Job]]:
        """The model of what has a place in the best plan so far, warm-started by it."""
        begun = self.clock()
        gone = set(self.best.unplaced)
        tasks = tuple(
            replace(
                t,
                after=tuple(a for a in t.after if a.task not in gone),
                independent_of=tuple(o for o in t.independent_of if o not in gone),
            )
            for t in self.problem.tasks
            if t.id not in gone
        )
        gates = tuple(replace(g, tasks=g.tasks - gone) for g in self.problem.gates)
        problem = replace(self.problem, tasks=tasks, gates=gates)
        jobs = jobs_of(problem)
        number = {p.id: n for n, p in enumerate(problem.people)}
        ends = {(s.task, s.start): s.end for s in self.best.stints}
        start: Places = {}
        for n, (at, team) in last_places(jobs, self.best).items():
            end = (
                ends.get((jobs[n].task.id, at), at + jobs[n].length)
                if len(jobs[n].lengths) > 1
                else at + jobs[n].length
            )
            start[n] = (at, end, tuple(sorted(number[p] for p in team if p in number)))
        model = Model(problem, jobs, start, with_people)
        self.making = self.clock() - begun
        return model, jobs

    def _take(self, jobs: list[Job], phase: str) -> Callable[[Places], None]:
        names = [p.id for p in self.problem.people]
        unplaced = self.best.unplaced

        def take(found: Places) -> None:
            places = {n: (s, e, tuple(sorted(names[p] for p in team))) for n, (s, e, team) in found.items()}
            for job in jobs:
                if job.fixed is not None:
                    places[job.number] = place_of_fixed(job, job.fixed)
            schedule = attend(self.problem, Schedule(stints_of(jobs, places), unplaced))
            if self._offer(schedule, phase):
                self.used_solver = True

        return take

    def _bound(self, share: float) -> int:
        model, _ = self._model(with_people=False)
        status, least = solve(
            model, model.finish, self._left(share), self.limits, lambda _: None, self.should_stop
        )
        return int(least) if status in ("OPTIMAL", "FEASIBLE", "UNKNOWN") and least > 0 else 0

    def _gates(self, more: bool) -> tuple[bool, int]:
        """more: there are trips to save too. They get a quarter of the time, where that is worth a third model."""
        model, jobs = self._model()
        objective = gates_and_finish(model)
        share = 0.75 if more and self._left(0.25) > 3 * self.making else 1.0
        status, least = solve(
            model,
            objective,
            self._left(share),
            self.limits,
            self._take(jobs, "gates"),
            self.should_stop,
            linear=False,
        )
        proved = (
            status == "OPTIMAL"
            and not model.tied
            and not self.best.unplaced
            and (not self.problem.gates or model.longest >= model.origin[-1])
        )
        return proved, int(least) if least > 0 and not model.tied else 0

    def _trips(self) -> None:
        model, jobs = self._model()
        model.m.add(model.finish <= self.figures.finish_worked)
        model.m.add(late(model) <= self.figures.late)
        objective = trips_load_and_lifts(model)
        solve(model, objective, self._left(), self.limits, self._take(jobs, "trips"), self.should_stop)

    def _close(self) -> bool:
        last = self.problem.last
        assert last is not None
        model, jobs = self._model()
        number = {p.id: n for n, p in enumerate(self.problem.people)}
        told_places = {
            n: (start, tuple(number[p] for p in team if p in number))
            for n, (start, team) in last_places(jobs, last).items()
        }
        finish, gates = told(self.problem)
        objective = least_disturbance(
            model, told_places, model.origin[-1] if finish is None else finish, gates
        )
        status, _ = solve(
            model, objective, self._left(), self.limits, self._take(jobs, "close"), self.should_stop
        )
        return status == "OPTIMAL" and not model.tied
