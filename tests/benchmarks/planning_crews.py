"""Crews made up at random: a first plan, the full plan, re-planning when somebody stays away. Run by hand:

    python tests/benchmarks/planning_crews.py [seconds of a full plan] [seeds] [sizes: 50,200,500] [seconds of a re-plan]

Per size, medians over the seeds with the range: what the simple method takes (CPU time); finish over the proved lower
bound, in working time, at once and after the seconds; then the busiest person of a day stays away, once whoever that
is and once among those whose work does not carry the finish that day: what the simple method and the seconds of a re-plan (one) come to,
over a bound proved for the changed problem, and the share of free tasks whose start moved. Then what each takes per task,
against the smallest size: growth. Every plan is checked. CPU time where one process does the work; wall time where the
limit is one.

What is asked of planning on two free cores (*must* / *aim*), and how it stands: measured on 27 November 2026 on a quiet machine of
two cores, ten seeds of 200 tasks and three of 500, medians; what was changed after that was measured in CPU time, for the machine
was busy again.

- A first plan, 200 tasks in 0.1 / 0.02 s, 500 in 0.3 / 0.05: 0.021 and 0.047 s of CPU. Both met but for a millisecond. Most of
  it is work per task, not looking through days: keeping what is known of each day from task to task gained nothing.
- Re-plan of 200 in 1 s, gap to the proved bound at most 10 / 5 %: 4.0 % (0 to 9.2), off the chain 3.3 %. *Aim* met.
- Re-plan of 500, valid in 0.1 s, 15 / 10 % at 2 s: 0.08 and 0.10 s of CPU (0.15 once), 4.2 % at 2 s. *Must* met at the median, *aim* met.
- Full plan of 200 in 10 s, 8 / 4 %: 3.5 % (0 to 7.5). *Aim* met.
- Starts that move when somebody off the chain stays away, 30 / 15 % of free tasks: 5 % at once, 4 % after 1 s, but 91 % with one crew of ten.
  Since then work is placed by its latest start, where it was told if that holds, and minutes of the end are weighed against moves
  (`figures.disturbance`): quiet, six crews, after 1 s 9 % (2 to 29), at once 18 % (2 to 41); whoever stays away 13 % after 1 s (3 to 38).
  *Must* met by each, *aim* at the median. On 50 tasks at once 28 % (7 to 94).
- A reason for no plan, local / path / resource in 0.1 / 1 / 10 and 0.05 / 0.5 / 3 s: 0.05, 0.73 and 1.2 s, exact in all of two crews
  (`planning_reasons.py`). *Must* met, *aim* but for path. The service gives it half of its 20 s.
- 10,000 samples with windows, 200 tasks, 1 / 0.4 s: 0.27 s. *Aim* met.
- Open projects, twelve at 10 s (`planning_projects.py`): mean gap 1.6 %, PyJobShop 1.9, the plain model 1.8: *aim* met. Four J120 at
  2 s, five seeds: 4.5 % against 5.8 of PyJobShop (better by 0.5 / 1.2 points: *aim* met) and 5.4 of the plain model (0.9 / 0.7 of
  it: 0.83, *must* met).
- Crews of 200 against PyJobShop, 30 s each (`planning_teams.py`): 0.96 and 0.87 of its finish (*must*: 0.7), first plan 360 and 750
  times sooner (*aim* 50). No plan of any method can reach 0.7 there: the longest chain alone bounds the ratio by 0.95 and
  0.85 (1461 of its 1536 slots, 1331 of 1571); ours, 1470 and 1372, are 0.6 and 3 % over that.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from planning.crews import crew_problem  # noqa: E402
from yokemate.planning.chain import chain_of  # noqa: E402
from yokemate.planning.check import check  # noqa: E402
from yokemate.planning.figures import figures  # noqa: E402
from yokemate.planning.improve import improve  # noqa: E402
from yokemate.planning.listing import list_schedule  # noqa: E402
from yokemate.planning.model import available  # noqa: E402
from yokemate.planning.odds import odds  # noqa: E402
from yokemate.planning.problem import Fixed, Limits, Problem, Schedule, Solved, Span, Stint  # noqa: E402

CREWS = {50: (6, 10), 200: (8, 10), 500: (12, 14)}  # tasks: people, weeks
Rows = dict[str, list[float]]
T = TypeVar("T")


def cpu_ms(work: Callable[[], T]) -> tuple[float, T]:
    began = time.process_time()
    found = work()
    return 1000 * (time.process_time() - began), found


def who_stays_away(problem: Problem, told: Schedule, off_chain: bool) -> tuple[Span, str] | None:
    """The busiest of the first day after a third of the work; or of the first on which some work carries nothing."""
    third = sorted(s.start for s in told.stints)[len(told.stints) // 3]
    chain = set(chain_of(problem, told))
    for day in problem.days:
        if day.end <= third:
            continue
        there = [s for s in told.stints if day.start <= s.start < day.end]
        carrying = {p for s in there if s.task in chain for p in s.team}
        busy = Counter(p for s in there for p in s.team if not (off_chain and p in carrying))
        if busy:
            return day, busy.most_common(1)[0][0]
    return None


def without(problem: Problem, told: Schedule, day: Span, away: str) -> Problem:
    """At the beginning of a day somebody does not come: what began before stays, the rest is free."""
    now = day.start
    first: dict[str, Stint] = {}
    for stint in told.stints:
        first.setdefault(stint.task, stint)
    parts = Counter(s.task for s in told.stints)
    tasks = []
    for task in problem.tasks:
        stint = first.get(task.id)
        if stint is not None and stint.start < now:
            if parts[task.id] > 1:
                continue  # begun and split: left out of the comparison
            settled = Fixed(stint.start, stint.team)
            length = stint.end - stint.start
            task = replace(task, fixed=settled, duration=length, part=None, quick=None, slow=None)
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
    return replace(problem, tasks=tuple(tasks), people=people, gates=gates, now=now, last=last)


def checked(problem: Problem, schedule: Schedule) -> Schedule:
    assert check(problem, schedule) == []
    return schedule


def plan(problem: Problem, seconds: float, seed: int) -> tuple[Rows, Solved]:
    first_ms, found = cpu_ms(lambda: list_schedule(problem))
    check_ms, _ = cpu_ms(lambda: checked(problem, found))
    began = time.monotonic()
    solved = improve(problem, found, time.monotonic, Limits(seconds=seconds, seed=seed))
    wall = time.monotonic() - began
    checked(problem, solved.schedule)
    odds_ms, _ = cpu_ms(lambda: odds(problem, found, 10_000, seed))
    at_once, bound = figures(problem, found), max(1, solved.bound_worked)
    return {
        "first plan, cpu ms": [first_ms],
        "check, cpu ms": [check_ms],
        "10,000 samples, cpu ms": [odds_ms],
        "first plan over bound, %": [100 * (at_once.finish_worked / bound - 1)],
        f"after {seconds:g} s over bound, %": [100 * (solved.figures.finish_worked / bound - 1)],
        f"after {seconds:g} s, wall s": [wall],
        "trips, first plan": [at_once.person_days],
        f"trips after {seconds:g} s": [solved.figures.person_days],
    }, solved


def replan(
    problem: Problem, told: Schedule, seed: int, off_chain: bool, seconds: float, within: float = 1.0
) -> Rows:
    found = who_stays_away(problem, told, off_chain)
    if found is None:
        return {}
    changed = without(problem, told, *found)
    free = max(1, sum(t.fixed is None for t in changed.tasks))
    simple_ms, simple = cpu_ms(lambda: checked(changed, list_schedule(changed)))
    began = time.monotonic()
    again = improve(changed, simple, time.monotonic, Limits(seconds=within, seed=seed))
    wall = time.monotonic() - began
    checked(changed, again.schedule)
    afresh = replace(changed, last=None)
    proved = improve(
        afresh, simple, time.monotonic, Limits(seconds=seconds, seed=seed, passes=1)
    )  # for its bound alone
    bound = max(1, proved.bound_worked, again.bound_worked)
    name = "off the chain" if off_chain else "anybody"
    at_once = figures(changed, simple)
    return {
        f"re-plan ({name}), simple method, cpu ms": [simple_ms],
        f"re-plan ({name}), simple method, over bound, %": [100 * (at_once.finish_worked / bound - 1)],
        f"re-plan ({name}), {within:g} s, over bound, %": [100 * (again.figures.finish_worked / bound - 1)],
        f"re-plan ({name}), {within:g} s, wall s": [wall],
        f"re-plan ({name}), simple method, free tasks moved, %": [100 * at_once.moved / free],
        f"re-plan ({name}), {within:g} s, free tasks moved, %": [100 * again.figures.moved / free],
    }


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    seeds = int(sys.argv[2]) if len(sys.argv) > 2 else 10
    within = float(sys.argv[4]) if len(sys.argv) > 4 else 1.0
    sizes = [int(n) for n in sys.argv[3].split(",")] if len(sys.argv) > 3 else list(CREWS)
    available()  # the library is loaded before anything is timed
    per_task: Rows = {}
    for tasks in sizes:
        people, weeks = CREWS[tasks]
        rows: Rows = {}
        for seed in range(1, seeds + 1):
            problem = replace(crew_problem(tasks, seed, people, weeks), gates=())
            found, solved = plan(problem, seconds, seed)
            for more in (
                found,
                replan(problem, solved.schedule, seed, False, seconds, within),
                replan(problem, solved.schedule, seed, True, seconds, within),
            ):
                for name, values in more.items():
                    rows.setdefault(name, []).extend(values)
        print(f"{tasks} tasks and their checks, {people} people, medians of {seeds}:")
        for name, values in rows.items():
            middle = statistics.median(values)
            print(f"  {name}: {middle:.2f}   ({min(values):.2f} to {max(values):.2f})", flush=True)
            if name.endswith("cpu ms"):
                per_task.setdefault(name, []).append(middle / tasks)
    print(f"growth: cpu per task against {sizes[0]} tasks, at {', '.join(map(str, sizes))}:")
    for name, values in per_task.items():
        print(f"  {name}: {', '.join(f'{value / values[0]:.2f}' for value in values)}")


if __name__ == "__main__":
    main()
