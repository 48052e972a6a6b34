"""Whether there is a plan at all: yes with a plan in hand that the checker has proven, no with a proof, or not known.

From quick to slow: the simple method; the longest chain as if nobody were ever busy (*path*); counting hours (*counts*);
the solver, whose *no* counts only when it says it twice, with other settings and by another model (*solver*).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from yokemate.planning.attend import attend
from yokemate.planning.board import Board
from yokemate.planning.causes import DEMAND
from yokemate.planning.check import check
from yokemate.planning.jobs import end_of, ends_of, jobs_of, place_of_fixed, stints_of
from yokemate.planning.late import earliest_ends
from yokemate.planning.listing import list_schedule
from yokemate.planning.model import Model, Places, available
from yokemate.planning.problem import Limits, Problem, Schedule, Task
from yokemate.planning.solver import any_plan

SECONDS = 1.5  # for one question to the solver
MEMORY_MB = 700


@dataclass(frozen=True, slots=True)
class Counted:
    """The work asked for is more than the hours given [slots of people]; of those with a skill, "" for all."""

    skill: str
    wanted: int
    given: int


@dataclass(frozen=True, slots=True)
class Answer:
    """plan: there is one, this. proof: there is none: path, counts, solver. Neither: not known."""

    plan: Schedule | None = None
    proof: str = ""
    counted: Counted | None = None


def is_there_a_plan(
    problem: Problem, should_stop: Callable[[], bool], passes: int = 2, twice: bool = True
) -> Answer:
    """For all tasks of a problem, with the demand's in time (`causes.Causes.only` makes such problems).

    twice: False while searching: a *no* of the solver that is only a step on the way is not asked again.
    """
    found = list_schedule(problem)
    if keeps(problem, found):
        return Answer(found)
    loose = loosened(problem)
    no = without_solver(loose)
    if no.proof:
        return no
    if passes > 1 and keeps(problem, found := list_schedule(problem, passes, 0, should_stop)):
        return Answer(found)
    if should_stop() or not available():
        return Answer()
    return _solved(problem, loose, should_stop, twice)


def without_solver(loose: Problem) -> Answer:
    """A proof that there is no plan by the longest chain or by counting, in a few milliseconds; of a `loosened` problem."""
    ends = earliest_ends(loose)
    if None in ends.values():
        return Answer(proof="path")
    for gate in loose.gates:
        if gate.id == DEMAND and gate.wanted is not None:
            if any((end or 0) > gate.wanted for task, end in ends.items() if task in gate.tasks):
                return Answer(proof="path")
    over = overfull(loose)
    return Answer() if over is None else Answer(proof="counts", counted=over)


def keeps(problem: Problem, schedule: Schedule) -> bool:
    """Everything has a place, the demand's in time, and the checker finds nothing."""
    if schedule.unplaced:
        return False
    ends = ends_of(schedule)
    gates = [gate for gate in problem.gates if gate.id == DEMAND and gate.wanted is not None]
    late = any(ends.get(task, 0) > (gate.wanted or 0) for gate in gates for task in gate.tasks)
    return not late and not check(problem, schedule)


def loosened(problem: Problem) -> Problem:
    """The same, but work that may be stopped is less: so much of it as holds however it is cut. Never harder."""
    return replace(problem, tasks=tuple(_loosened(task) for task in problem.tasks))


def _loosened(task: Task) -> Task:
    """Stretches L1..Lk of D slots in all, none under p, hold at least max(k, (D - k (p - 1)) / p) whole pieces of p."""
    if task.part is None or task.fixed is not None or task.part < 1:
        return task
    p, total = task.part, task.duration
    pieces = min(max(k, -(-(total - k * (p - 1)) // p)) for k in range(1, max(1, total // p) + 1))
    return replace(task, duration=pieces * p, with_learner=None, quick=None, slow=None)


def overfull(problem: Problem) -> Counted | None:
    """More work than hours, of all or of those with a skill; before the demand's date, or the end."""
    board = Board(problem, jobs_of(problem))
    for job in board.jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    loose = [task for task in problem.tasks if task.fixed is None]
    crew = problem.people
    for skill in ("", *sorted({need.skill for task in loose for need in task.needs})):
        given = sum(
            free.bit_count()
            for day in board.free
            for free, person in zip(day, crew, strict=True)
            if not person.minor and (not skill or skill in person.skills)
        )
        wanted = sum(
            task.duration * (sum(n.count for n in task.needs if n.skill == skill) if skill else task.people)
            for task in loose
        )
        if wanted > given:
            return Counted(skill, wanted, given)
    return None


def _solved(problem: Problem, loose: Problem, should_stop: Callable[[], bool], twice: bool) -> Answer:
    """By heads only first: that is quick, and its *no* is one too. Then with people."""
    first = _ask(loose, False, True, should_stop)[0]
    if first != "INFEASIBLE":
        first, places = _ask(loose, True, True, should_stop)
        if places is not None and loose == problem:
            plan = _read(problem, places)
            return Answer(plan) if keeps(problem, plan) else Answer()
    if first == "INFEASIBLE" and not twice:
        return Answer(proof="solver")
    if first == "INFEASIBLE" and _ask(loose, True, False, should_stop)[0] == "INFEASIBLE":
        return Answer(proof="solver")
    return Answer()


def _ask(
    problem: Problem, with_people: bool, presolve: bool, should_stop: Callable[[], bool]
) -> tuple[str, Places | None]:
    jobs = jobs_of(problem)
    model = Model(problem, jobs, None, with_people)
    if model.nowhere:
        return "INFEASIBLE", None
    for gate in problem.gates:
        for job in model.free:
            if gate.id == DEMAND and gate.wanted is not None and job.task.id in gate.tasks:
                model.m.add(model.end[job.number] <= model.work(min(gate.wanted, end_of(problem))))
    limits = Limits(workers=2 if presolve else 1, seed=0 if presolve else 1, memory_mb=MEMORY_MB)
    return any_plan(model, SECONDS, limits, presolve, should_stop)


def _read(problem: Problem, found: Places) -> Schedule:
    jobs, names = jobs_of(problem), [person.id for person in problem.people]
    places = {
        n: (start, end, tuple(sorted(names[p] for p in team))) for n, (start, end, team) in found.items()
    }
    for job in jobs:
        if job.fixed is not None:
            places[job.number] = place_of_fixed(job, job.fixed)
    return attend(problem, Schedule(stints_of(jobs, places)))
