"""Ranges: against the beta distribution of a reference library, and against what can be said by hand."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from planning.crews import DAY, crew_problem
from yokemate.planning.listing import list_schedule
from yokemate.planning.odds import _durations, odds
from yokemate.planning.problem import After, Fixed, Gate, Person, Problem, Schedule, Span, Stint, Task, Use

LONG = Span(0, 10_000)
DAYS = (Span(0, 100), Span(DAY, DAY + 100), Span(2 * DAY, 2 * DAY + 100))


def test_one_task_is_the_beta_pert_distribution() -> None:
    """quick 70, likely 100, slow 200: alpha 1 + 4*30/130, beta 1 + 4*100/130, by scipy; within 1.5 slots of 100+."""
    problem = Problem((Task("a", 100, quick=70, slow=200),), (Person("x", (LONG,)),), (LONG,))
    found = odds(problem, list_schedule(problem), 20_000, 1)
    reference = stats.beta(1 + 120 / 130, 1 + 400 / 130, 70, 130)

    assert found.finish.p50 == pytest.approx(reference.ppf(0.5), abs=1.5)
    assert found.finish.p80 == pytest.approx(reference.ppf(0.8), abs=1.5)


@pytest.mark.parametrize(("figures", "mean"), [((20, 35, 80), 40), ((45, 60, 120), 67.5)])
def test_durations_have_the_mean_of_the_three_point_estimate(
    figures: tuple[int, int, int], mean: float
) -> None:
    """P3: (20 + 140 + 80)/6 = 40 and (45 + 240 + 120)/6 = 67.5; whole slots rounded up lie half a slot above."""
    quick, likely, slow = figures
    drawn = _durations(np, np.random.default_rng(1), Task("a", likely, quick=quick, slow=slow), 40_000)
    assert drawn.mean() == pytest.approx(mean + 0.5, abs=0.2)
    assert (drawn.min() >= quick, drawn.max() <= slow) == (True, True)


def test_what_overruns_a_day_is_over_the_next() -> None:
    """90 slots fit a day of 100, 110 do not: those go on over the second day. By hand: P50 the first day."""
    tasks = (Task("a", 60, quick=60, slow=60), Task("b", 35, quick=35, slow=65, after=(After("a"),)))
    problem = Problem(tasks, (Person("x", DAYS),), DAYS, gates=(Gate("g", frozenset({"b"}), wanted=100),))
    found = odds(problem, list_schedule(problem), 4000, 1)
    in_time = 100 * float(stats.beta(1, 5, 35, 30).cdf(40))

    assert found.gates["g"].in_time_percent == pytest.approx(in_time, abs=3)
    assert found.finish.p80 is not None and found.finish.p80 > DAY
    assert found.drivers == (("b", 100),)


@pytest.mark.parametrize("replay", [False, True])
def test_sure_durations_give_the_plan_itself(replay: bool) -> None:
    """No spread: both ways answer with the plan's own finish where nobody is short."""
    tasks = (
        Task("a", 60, 2),
        Task("b", 60, 1, after=(After("a", 24),)),
        Task("c", 20, fixed=Fixed(DAY, ("y",))),
    )
    people = (Person("x", DAYS), Person("y", DAYS))
    problem = Problem(tasks, people, DAYS)
    plan = list_schedule(problem)
    found = odds(problem, plan, 50, 1, replay)

    assert found.finish.p50 == found.finish.p80 == max(s.end for s in plan.stints)


def test_who_may_stay_away_moves_the_range() -> None:
    """The only one comes half the days: in half the samples not on the first; in one of eight on none of the three."""
    problem = Problem((Task("a", 50),), (Person("x", DAYS, comes_percent=50),), DAYS)
    plan = list_schedule(problem)
    found = odds(problem, plan, 600, 3, replay=True)

    assert found.finish.p80 is not None and found.finish.p80 >= DAY + 50
    assert found.unplaced_percent == pytest.approx(12.5, abs=5)


def test_a_crew_of_its_own_size() -> None:
    """The same seed gives the same answer; P80 is not before P50, and neither long before the plan."""
    problem = crew_problem(60, 2)
    plan = list_schedule(problem)
    found = odds(problem, plan, 2000, 5)

    assert found == odds(problem, plan, 2000, 5)
    assert found.finish.p50 is not None and found.finish.p80 is not None
    assert found.finish.p50 <= found.finish.p80
    assert sum(share for _, share in found.drivers) <= 102


def test_work_goes_on_with_a_tool_of_which_none_is_fit_any_more() -> None:
    """The torque wrench in somebody's hands went past its check: work in hand stays where it is, and has a range."""
    in_hand = Task("a", 60, quick=50, slow=70, tools=(Use("W", 1),), fixed=Fixed(0, ("x",)))
    problem = Problem((in_hand,), (Person("x", (LONG,)),), (LONG,), tools={"W": 0})
    plan = Schedule((Stint("a", 0, 60, ("x",)),))
    assert odds(problem, plan, 500, 1).finish.p50 is not None


def test_without_any_plan_there_is_no_range() -> None:
    problem = Problem((Task("a", 5),), (), DAYS, gates=(Gate("g", frozenset({"a"})),))

    assert odds(problem, Schedule((), ("a",)), 10).gates["g"].p50 is None
    assert odds(replace(problem, tasks=(), gates=()), Schedule(()), 10).drivers == ()
