"""How long it takes to say why there is no plan, against how long one plan by the simple method takes. Run by hand:

    python tests/benchmarks/planning_reasons.py [seeds] [sizes: 50,200,500] [bound, s]

A fault is planted in crews made up at random, and looked for until it is told exactly or the bound ends it:

- *local*: a task for more people than are ever in together. `why_not` says so by itself, with changes that were tried.
- *path*: a part comes so late that its task misses a gate's date, whoever does it.
- *resource*: three jobs on one machine, all of whose parts come on the last day; any two fit, three are too much.

Printed, medians over the seeds with the range: CPU time as so many plans by the simple method of the same problem, measured
in the same run, so that the figures of two machines can be set side by side; the wall time beside it; and in how many the
planted causes were named, no more and no fewer.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from benchmarks.planning_crews import CREWS, cpu_ms  # noqa: E402
from planning.crews import crew_problem  # noqa: E402
from yokemate.planning.find_out import find_out  # noqa: E402
from yokemate.planning.listing import list_schedule  # noqa: E402
from yokemate.planning.model import available  # noqa: E402
from yokemate.planning.problem import Gate, Problem, Task, Use  # noqa: E402
from yokemate.planning.reasons import Cause, Reason  # noqa: E402
from yokemate.planning.why_not import why_not  # noqa: E402

Planted = tuple[Problem, Callable[[Reason], bool]]


def local(problem: Problem, size: int) -> Planted:
    """All adults together for as long as a day has, which never happens (some come late or leave early)."""
    adults = sum(not person.minor for person in problem.people)
    longest = max(day.end - day.start for day in problem.days)
    whole = Task(f"t{size - 1}", longest, adults)
    return _with(problem, whole), lambda reason: reason.code == "never_together" and reason.task == whole.id


def path(problem: Problem, size: int) -> Planted:
    """Its part is there on the morning of the last day, and it should be over an hour later than that; it takes two."""
    day = problem.days[-1]
    fit = Task(f"t{size - 1}", 24, release=day.start, waits_for="pump")
    gate = Gate("start", frozenset({fit.id}), wanted=day.start + 12)
    asked = replace(_with(problem, fit), gates=(gate,))
    return asked, lambda reason: set(reason.causes) == {Cause("part", ("pump",)), Cause("gate", ("start",))}


def resource(problem: Problem, size: int) -> Planted:
    """Jobs of 40 slots on the only lathe on a last day of 108: 120."""
    day = problem.days[-1]
    names = [f"t{size - n}" for n in (3, 2, 1)]
    for name in names:
        problem = _with(problem, Task(name, 40, tools=(Use("lathe"),), release=day.start, waits_for=name))
    asked = replace(problem, tools={**problem.tools, "lathe": 1})

    def exact(reason: Reason) -> bool:
        others = {Cause("work", (name,)) for name in names if name != reason.task}
        return set(reason.causes) == {
            Cause("tool", ("lathe",)), *(Cause("part", (name,)) for name in names), *others,
        }  # fmt: skip

    return asked, exact


def _with(problem: Problem, task: Task) -> Problem:
    return replace(problem, tasks=tuple(task if t.id == task.id else t for t in problem.tasks))


def main() -> None:
    seeds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    sizes = [int(n) for n in sys.argv[2].split(",")] if len(sys.argv) > 2 else list(CREWS)
    bound = float(sys.argv[3]) if len(sys.argv) > 3 else 30.0
    available()  # the library is loaded before anything is timed
    for size in sizes:
        people, weeks = CREWS[size]
        print(f"{size} tasks and their checks, {people} people, medians of {seeds}:")
        for plant in (local, path, resource):
            ratios, walls, exact = [], [], 0
            for seed in range(1, seeds + 1):
                problem, right = plant(replace(crew_problem(size, seed, people, weeks), gates=()), size)
                plan_ms, schedule = cpu_ms(lambda asked=problem: list_schedule(asked))
                began = time.monotonic()
                over = began + bound
                if plant is local:
                    ms, found = cpu_ms(lambda asked=problem, shown=schedule: why_not(asked, shown))
                else:
                    ms, out = cpu_ms(
                        lambda asked=problem, shown=schedule, until=over: find_out(
                            asked, shown, lambda: time.monotonic() > until
                        )
                    )
                    found = list(out.reasons)
                walls.append(time.monotonic() - began)
                ratios.append(ms / plan_ms)
                exact += any(right(reason) for reason in found)
            print(
                f"  {plant.__name__}: {statistics.median(ratios):.1f} plans   ({min(ratios):.1f} to {max(ratios):.1f}); "
                f"{statistics.median(walls):.2f} s of wall time; exact in {exact} of {seeds}",
                flush=True,
            )


if __name__ == "__main__":
    main()
