"""The demo build at its middle: a first plan, the full plan, re-planning when somebody stays away. Run by hand:

    python tests/benchmarks/planning_demo.py [seconds of a full plan] [seeds]

The demo is played into a database of its own (half a minute); what is left of it is the problem, with the crew's hours as
they gave them. The lines are those of `planning_crews.py`; seeds vary the solver's search only. Every plan is checked.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from benchmarks.planning_crews import Rows, plan, replan  # noqa: E402
from support.service import CHEAP_KIB, SECRET, migrated_sqlite  # noqa: E402
from yokemate import demo  # noqa: E402
from yokemate.app import make_service  # noqa: E402
from yokemate.planning.model import available  # noqa: E402
from yokemate.planning.problem import Problem  # noqa: E402
from yokemate.rules.days_offer import asked_for  # noqa: E402
from yokemate.settings import Settings  # noqa: E402
from yokemate.store import hours  # noqa: E402


def demo_problem(folder: Path) -> Problem:
    """What is left of the demo build, with nothing told yet."""
    crew = demo.crew()
    settings = Settings(
        f"sqlite:///{migrated_sqlite(folder)}", SECRET, mode="demo", argon2_memory_kib=CHEAP_KIB
    )
    made = make_service(settings, [one.shown() for one in crew.people])
    demo.load(made, crew)
    loaded = made.handler.states.current(demo.BUILD)
    assert loaded is not None
    with made.database.read() as connection:
        said = hours.of_build(connection, demo.BUILD)
    made.database.close()
    return replace(asked_for(loaded.state, said, made.now_ms()), last=None)


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    seeds = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    available()  # the library is loaded before anything is timed
    with tempfile.TemporaryDirectory() as folder:
        problem = demo_problem(Path(folder))
    rows: Rows = {}
    for seed in range(1, seeds + 1):
        found, solved = plan(problem, seconds, seed)
        for more in (
            found,
            replan(problem, solved.schedule, seed, False, seconds),
            replan(problem, solved.schedule, seed, True, seconds),
        ):
            for name, values in more.items():
                rows.setdefault(name, []).extend(values)
    print(
        f"the demo: {len(problem.tasks)} tasks and checks left, {len(problem.people)} people, {seeds} seeds:"
    )
    for name, values in rows.items():
        print(f"  {name}: {statistics.median(values):.2f}   ({min(values):.2f} to {max(values):.2f})")


if __name__ == "__main__":
    main()
