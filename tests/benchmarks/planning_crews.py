"""Crews made up at random: time to a first plan, gap to the bound, re-planning, growth with size. Run by hand:

    python tests/benchmarks/planning_crews.py [seconds] [seeds]

Per size: CPU milliseconds of the simple method; working-time finish after each stage over the proved lower bound; then
the busiest of a day stays away: simple method and solver, with the share of free tasks whose start moved. Every plan
is checked. CPU time where one process does the work; ratios where the solver's threads share the machine.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections import Counter
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from planning.crews import crew_problem  # noqa: E402
from yokemate.planning.check import check  # noqa: E402
from yokemate.planning.figures import figures  # noqa: E402
from yokemate.planning.improve import improve  # noqa: E402
from yokemate.planning.listing import list_schedule  # noqa: E402
from yokemate.planning.odds import odds  # noqa: E402
from yokemate.planning.problem import Fixed, Limits, Problem, Schedule, Stint  # noqa: E402

SIZES = ((50, 6, 10), (200, 8, 10), (500, 12, 14))


def cpu_ms(work) -> tuple[float, object]:
    began = time.process_time()
    found = work()
    return 1000 * (time.process_time() - began), found


def no_show(problem: Problem, told: Schedule) -> tuple[Problem, int]:
    """Half way through: what began before stays; the busiest of the next day does not come."""
    half = sorted(s.start for s in told.stints)[len(told.stints) // 3]
    day = next(d for d in problem.days if d.end > half)
    now = day.start
    first: dict[str, Stint] = {}
    for stint in told.stints:
        first.setdefault(stint.task, stint)
    counts = Counter(p for s in told.stints if day.start <= s.start < day.end for p in s.team)
    away = counts.most_common(1)[0][0]
    parts = Counter(s.task for s in told.stints)
    tasks = []
    for task in problem.tasks:
        stint = first.get(task.id)
        if stint is not None and stint.start < now and parts[task.id] == 1:
            task = replace(
                task,
                fixed=Fixed(stint.start, stint.team),
                duration=stint.end - stint.start,
                part=None,
                quick=None,
                slow=None,
            )
        elif stint is not None and stint.start < now:
            continue  # begun and split: left out of the comparison
        tasks.append(task)
    kept = {t.id for t in tasks}
    tasks = [
        replace(
            t,
            after=tuple(a for a in t.after if a.task in kept),
            independent_of=tuple(o for o in t.independent_of if o in kept),
        )
        for t in tasks
    ]
    people = tuple(
        replace(p, hours=tuple(s for s in p.hours if not day.start <= s.start < day.end))
        if p.id == away
        else p
        for p in problem.people
    )
    gates = tuple(replace(g, tasks=g.tasks & kept) for g in problem.gates)
    last = Schedule(tuple(s for s in told.stints if s.task in kept))
    return replace(problem, tasks=tuple(tasks), people=people, gates=gates, now=now, last=last), sum(
        t.fixed is None for t in tasks
    )


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    seeds = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    for tasks, people, weeks in SIZES:
        rows: dict[str, list[float]] = {}
        for seed in range(1, seeds + 1):
            problem = replace(crew_problem(tasks, seed, people, weeks), gates=())
            first_ms, plan = cpu_ms(lambda problem=problem: list_schedule(problem))
            assert isinstance(plan, Schedule)
            check_ms, findings = cpu_ms(lambda problem=problem, plan=plan: check(problem, plan))
            assert findings == []
            solved = improve(problem, plan, Limits(seconds=seconds, seed=seed))
            assert check(problem, solved.schedule) == []
            odds_ms, _ = cpu_ms(
                lambda problem=problem, plan=plan, seed=seed: odds(problem, plan, 10_000, seed)
            )
            bound = max(1, solved.bound_worked)
            changed, free = no_show(problem, solved.schedule)
            again_ms, again = cpu_ms(lambda changed=changed: list_schedule(changed))
            assert isinstance(again, Schedule)
            assert check(changed, again) == []
            better = improve(changed, again, Limits(seconds=1.0, seed=seed))
            assert check(changed, better.schedule) == []
            for name, value in (
                ("first plan, cpu ms", first_ms),
                ("check, cpu ms", check_ms),
                ("simple method over bound, %", 100 * (figures(problem, plan).finish_worked / bound - 1)),
                (f"after {seconds:g} s over bound, %", 100 * (solved.figures.finish_worked / bound - 1)),
                ("trips: simple method", figures(problem, plan).person_days),
                ("trips: solver", solved.figures.person_days),
                ("10,000 samples, cpu ms", odds_ms),
                ("re-plan, simple, cpu ms", again_ms),
                ("re-plan, simple: free tasks moved, %", 100 * figures(changed, again).moved / max(1, free)),
                ("re-plan, 1 s: free tasks moved, %", 100 * better.figures.moved / max(1, free)),
                (
                    "re-plan, 1 s: finish over what was told, %",
                    100 * (better.figures.finish_worked / solved.figures.finish_worked - 1),
                ),
            ):
                rows.setdefault(name, []).append(value)
        print(f"{tasks} tasks and their checks, {people} people, medians of {seeds}:")
        for name, values in rows.items():
            print(
                f"  {name}: {statistics.median(values):.1f}   ({min(values):.1f} to {max(values):.1f})",
                flush=True,
            )


if __name__ == "__main__":
    main()
