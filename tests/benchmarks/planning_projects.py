"""Open project instances, engines side by side in one run. Run by hand:

    python tests/benchmarks/planning_projects.py FOLDER [seconds] [name part] [seeds]      (with the extra `bench` for PyJobShop)

FOLDER holds `.sm` (PSPLIB, single-mode) or `.dzn` (multi-skill) files and a best_known.csv (instance,lb,ub); the
files themselves are not ours to hand on. Engines: the room's `improve` from its own simple method; the same model
plain, without start or passes, as CP-SAT comes (`.sm` only); PyJobShop (`.sm` only). All with two workers and the
same wall time one after the other, per instance; on a shared machine read the columns against each other, not alone.
Printed: share proved and mean gap to the best known, over instances and seeds. Each plan of ours is checked.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from benchmarks.project_files import Project, best_known, project_problem, read_dzn, read_sm  # noqa: E402
from yokemate.planning.check import check  # noqa: E402
from yokemate.planning.improve import improve  # noqa: E402
from yokemate.planning.listing import list_schedule  # noqa: E402
from yokemate.planning.problem import Limits, Problem  # noqa: E402

Answer = tuple[int | None, bool]  # finish, proved


def ours(problem: Problem, seconds: float, seed: int) -> Answer:
    start = list_schedule(problem)
    solved = improve(problem, start, time.monotonic, Limits(seconds=seconds, bound=False, seed=seed))
    assert check(problem, solved.schedule) == []
    assert not solved.schedule.unplaced
    return solved.figures.finish, solved.proved


def simple(problem: Problem) -> Answer:
    return max(s.end for s in list_schedule(problem).stints), False


def plain(project: Project, seconds: float, seed: int) -> Answer:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    starts = [model.new_int_var(0, project.horizon, "") for _ in project.durations]
    spans = [
        model.new_fixed_size_interval_var(s, d, "") for s, d in zip(starts, project.durations, strict=True)
    ]
    for n, following in enumerate(project.successors):
        for j in following:
            model.add(starts[j] >= starts[n] + project.durations[n])
    for r, capacity in enumerate(project.capacities):
        model.add_cumulative(spans, [row[r] for row in project.demands], capacity)
    model.minimize(starts[-1])
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = seed
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, False
    return int(solver.objective_value), status == cp_model.OPTIMAL


def pyjobshop(project: Project, seconds: float, seed: int) -> Answer:
    from pyjobshop import Model

    model = Model()
    resources = [model.add_renewable(capacity=c) for c in project.capacities]
    tasks = [model.add_task() for _ in project.durations]
    for task, duration, demands in zip(tasks, project.durations, project.demands, strict=True):
        model.add_mode(task, resources, duration=duration, demands=demands)
    for n, following in enumerate(project.successors):
        for j in following:
            model.add_end_before_start(tasks[n], tasks[j])
    result = model.solve(time_limit=seconds, display=False, num_workers=2, random_seed=seed)
    found = result.objective
    return (int(found), result.status.name == "OPTIMAL") if found != float("inf") else (None, False)


def engines(path: Path, seconds: float) -> dict[str, Callable[[int], Answer]]:
    """What is run on an instance, by name; each is given a seed."""
    if path.suffix == ".dzn":
        problem = read_dzn(path.read_text())
        return {"simple": lambda _: simple(problem), "ours": lambda seed: ours(problem, seconds, seed)}
    project = read_sm(path.read_text())
    as_problem = project_problem(project)
    return {
        "simple": lambda _: simple(as_problem),
        "ours": lambda seed: ours(as_problem, seconds, seed),
        "plain CP-SAT": lambda seed: plain(project, seconds, seed),
        "PyJobShop": lambda seed: pyjobshop(project, seconds, seed),
    }


def main() -> None:
    folder = Path(sys.argv[1])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 10.0
    part = sys.argv[3] if len(sys.argv) > 3 else ""
    seeds = int(sys.argv[4]) if len(sys.argv) > 4 else 1
    known = best_known(folder)
    gaps: dict[str, list[float]] = {}
    proved: dict[str, int] = {}
    for path in sorted(p for p in folder.iterdir() if p.suffix in (".sm", ".dzn") and part in p.name):
        low, best = known[path.stem]
        for seed in range(1, seeds + 1):
            words = []
            for name, run in engines(path, seconds).items():
                began = time.process_time()
                try:
                    finish, done = run(seed)
                except ImportError:
                    continue
                gap = 100.0 if finish is None else 100 * (finish - best) / best
                gaps.setdefault(name, []).append(gap)
                proved[name] = proved.get(name, 0) + done
                words.append(
                    f"{name} {finish}{'*' if done else ''} ({time.process_time() - began:.1f} cpu s)"
                )
            print(f"{path.stem} [{low}..{best}], seed {seed}: " + " · ".join(words), flush=True)
    for name, found in gaps.items():
        print(f"{name}: {proved[name]} of {len(found)} proved, mean gap {statistics.mean(found):.2f} %")


if __name__ == "__main__":
    main()
