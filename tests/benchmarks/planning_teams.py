"""Crews made up at random against PyJobShop, side by side in one run. Run by hand (with the extra `bench`):

    python tests/benchmarks/planning_teams.py [seconds] [seeds] [tasks]

PyJobShop knows no "two of these five": every team is a mode of its own. Its different-resources rule would forbid a
check the zone of the work, so checks have no zone there (in its favour); nor does it get hazards, presence, learners,
last half hours or day ends for lifts, and cures count on its calendar as they are. It starts from nothing, as it comes;
ours from its own simple method. Same wall time one after the other, two workers each. Printed: the finish in
working time of each and their ratio, the least ratio that any plan could have by the proved bound, and when each had its first plan.
"""

from __future__ import annotations

import itertools
import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from planning.crews import crew_problem  # noqa: E402
from yokemate.planning.check import check  # noqa: E402
from yokemate.planning.improve import improve  # noqa: E402
from yokemate.planning.jobs import worked  # noqa: E402
from yokemate.planning.listing import list_schedule  # noqa: E402
from yokemate.planning.model import available  # noqa: E402
from yokemate.planning.problem import Limits, Person, Problem, Task  # noqa: E402


def simpler(problem: Problem) -> Problem:
    """Without gates and without tasks in parts, for both."""
    return replace(problem, gates=(), tasks=tuple(replace(t, part=None) for t in problem.tasks))


def ours(problem: Problem, seconds: float) -> tuple[int, float, int]:
    """Finish in working time, the wall seconds to a first plan, and the proved bound of the finish."""
    began = time.monotonic()
    start = list_schedule(problem)
    first = time.monotonic() - began
    solved = improve(problem, start, time.monotonic, Limits(seconds=seconds - first))
    assert check(problem, solved.schedule) == []
    return solved.figures.finish_worked, first, solved.bound_worked


def teams(task: Task, people: tuple[Person, ...]) -> list[tuple[int, ...]]:
    """Everybody who could do it together, by number."""
    grown = [n for n, p in enumerate(people) if not p.minor]
    return [
        team
        for team in itertools.combinations(grown, task.people)
        if all(sum(need.skill in people[n].skills for n in team) >= need.count for need in task.needs)
    ]


def away(person: Person, end: int) -> list[tuple[int, int]]:
    edges = [0, *(at for span in person.hours for at in (span.start, span.end)), end]
    return [(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True) if a < b]


def theirs(problem: Problem, seconds: float) -> tuple[int | None, float | None]:
    from pyjobshop import Model

    began = time.monotonic()
    model = Model()
    end = problem.days[-1].end
    crew = [model.add_machine(breaks=away(p, end)) for p in problem.people]
    tools = {name: model.add_renewable(capacity=most) for name, most in problem.tools.items()}
    zones = {name: model.add_renewable(capacity=most) for name, most in problem.zones.items()}
    made: dict[str, Any] = {}
    for task in problem.tasks:
        one = made[task.id] = model.add_task(earliest_start=task.release, latest_end=end)
        shared = [(tools[use.tool], use.count) for use in task.tools]
        if task.zone is not None and not task.independent_of:
            shared.append((zones[task.zone], task.people))
        for team in teams(task, problem.people):
            resources = [*(crew[n] for n in team), *(what for what, _ in shared)]
            demands = [*(0 for _ in team), *(count for _, count in shared)]  # a machine is held whole
            model.add_mode(one, resources, task.duration, demands)
    for task in problem.tasks:
        for before in task.after:
            model.add_end_before_start(made[before.task], made[task.id], before.lag)
        for other in task.independent_of:
            model.add_different_resources(made[task.id], made[other])
    found, first = solved(model, seconds, began)
    return None if found is None else worked(problem.days, found), first


def solved(model: Any, seconds: float, began: float) -> tuple[int | None, float | None]:
    """Its own constraint model, solved as it does, with a look at when the first solution comes."""
    from ortools.sat.python import cp_model
    from pyjobshop.solvers.ortools.CPModel import CPModel

    built = CPModel(model.data())
    first: list[float] = []

    class Heard(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            if not first:
                first.append(time.monotonic() - began)

    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(0.1, seconds - (time.monotonic() - began))
    solver.parameters.num_workers = 2
    status = solver.solve(built.model, Heard())
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, None
    return int(solver.objective_value), first[0]


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 30.0
    seeds = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    tasks = int(sys.argv[3]) if len(sys.argv) > 3 else 200
    available()
    ratios: list[float] = []
    for seed in range(1, seeds + 1):
        problem = simpler(crew_problem(tasks, seed))
        finish, first, bound = ours(problem, seconds)
        other, other_first = theirs(problem, seconds)
        words = f"seed {seed}: ours {finish}, first plan after {first:.3f} s; PyJobShop "
        if other is None or other_first is None:
            print(words + f"no plan in {seconds:g} s", flush=True)
            continue
        ratios.append(finish / other)
        sooner = other_first / first
        words += f"{other}, first after {other_first:.1f} s: "
        words += f"ratio {ratios[-1]:.2f}, no plan of any method could be below {bound / other:.2f}; "
        print(words + f"{sooner:.0f} x sooner", flush=True)
    print(f"{len(ratios)} of {seeds} with a plan by both")
    if ratios:
        print(f"median ratio of the finishes: {statistics.median(ratios):.2f}")


if __name__ == "__main__":
    main()
