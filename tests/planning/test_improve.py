"""The solver: never worse than the simple method, every plan it tells keeps every rule, and small truths hold."""

from collections.abc import Callable
from dataclasses import replace
from itertools import product
from time import monotonic
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.crews import DAY, crew_problem
from yokemate.planning import improve as room
from yokemate.planning.check import check
from yokemate.planning.figures import figures, rank
from yokemate.planning.jobs import worked
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import (
    After,
    Fixed,
    Limits,
    Need,
    Person,
    Problem,
    Progress,
    Schedule,
    Solved,
    Span,
    Task,
    Use,
)
from yokemate.planning.reasons import Finding

QUICK = Limits(seconds=3.0, workers=1, passes=3, seed=7)
PROOF = Limits(
    seconds=60.0, workers=1, passes=3, seed=7
)  # needs a tenth of a second; a busy machine may take longer


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> list[Finding]:
    """What the checker found in plans of the solver: it should find nothing, or the model is wrong."""
    found: list[Finding] = []
    real = room.check

    def noted(problem: Problem, schedule: Schedule) -> list[Finding]:
        now = real(problem, schedule)
        found.extend(now)
        return now

    monkeypatch.setattr(room, "check", noted)
    return found


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_model_knows_every_rule(broken: list[Finding], seed: int) -> None:
    """Every plan that the solver comes up with passes the checker, and none is worse than the one before."""
    problem = crew_problem(25, seed, 5, 6)
    start = list_schedule(problem)
    told: list[Progress] = []
    solved = room.improve(problem, start, monotonic, replace(QUICK, seconds=2.0), told.append)

    ranks = [rank(problem, p.figures) for p in told]
    assert broken == []
    assert ranks == sorted(ranks, reverse=True)
    assert rank(problem, solved.figures) <= rank(problem, figures(problem, start))
    assert solved.bound_worked <= solved.figures.finish_worked


def test_a_worked_example_is_proved() -> None:
    """Three tasks of 4, 3 and 3 slots for one person each, two people, one wrench for the 3s: 4 | 3 + 3 makes 6."""
    tasks = (Task("a", 4), Task("b", 3, tools=(Use("wrench"),)), Task("c", 3, tools=(Use("wrench"),)))
    day = Span(0, 50)
    problem = Problem(tasks, (Person("x", (day,)), Person("y", (day,))), (day,), tools={"wrench": 1})
    solved = room.improve(problem, list_schedule(problem), monotonic, PROOF)

    assert (solved.figures.finish, solved.bound_worked, solved.proved) == (6, 6, True)


def test_the_solver_finds_what_the_simple_method_misses() -> None:
    """Only x can do s; y does either. Best by hand: x does s (6), y does p (6), both then l (2): 8."""
    day = Span(0, 50)
    x, y = Person("x", (day,), frozenset({"k"})), Person("y", (day,))
    tasks = (Task("p", 6), Task("s", 6, needs=(Need("k"),)), Task("l", 2, 2, after=(After("p"), After("s"))))
    problem = Problem(tasks, (x, y), (day,))

    assert room.improve(problem, list_schedule(problem), monotonic, PROOF).figures.finish == 8


def test_a_lag_runs_on_the_calendar_in_the_model_too() -> None:
    """Two days of 10 slots; 290 slots after slot 10 is slot 300, in the second day (288 to 298) no more: third day."""
    days = (Span(0, 10), Span(DAY, DAY + 10), Span(2 * DAY, 2 * DAY + 10))
    tasks = (
        Task("a", 10),
        Task("b", 2, after=(After("a", DAY + 2),)),
        Task("c", 3, after=(After("a", DAY - 5),)),
    )
    problem = Problem(tasks, (Person("x", days),), days)
    solved = room.improve(problem, list_schedule(problem), monotonic, PROOF)
    at = {s.task: s.start for s in solved.schedule.stints}

    assert (at["a"], at["b"], at["c"]) == (0, 2 * DAY, DAY + 5)
    assert solved.proved


def test_nothing_changed_changes_nothing_and_asks_no_solver() -> None:
    problem = crew_problem(20, 4, 5, 6)
    told = room.improve(problem, list_schedule(problem), monotonic, replace(QUICK, seconds=1.0)).schedule
    again = replace(problem, last=told)
    solved = room.improve(again, list_schedule(again), monotonic, QUICK)

    assert (solved.schedule, solved.proved, solved.used_solver) == (told, True, False)


def test_a_lift_called_as_planned_or_elsewhere_moves_nothing_by_itself() -> None:
    """Fixed where it was: nothing changes. What is fixed elsewhere counts as no move of the planner's."""
    problem = crew_problem(20, 4, 5, 6)
    told = list_schedule(problem)
    lift = next(s for s in told.stints if next(t for t in problem.tasks if t.id == s.task).lift)
    called = tuple(
        replace(t, fixed=Fixed(lift.start, lift.team), duration=lift.end - lift.start)
        if t.id == lift.task
        else t
        for t in problem.tasks
    )
    again = replace(problem, tasks=called, last=told)
    solved = room.improve(again, list_schedule(again), monotonic, QUICK)

    assert [(s.task, s.start, s.team) for s in solved.schedule.stints] == [
        (s.task, s.start, s.team) for s in told.stints
    ]
    assert solved.figures.moved == 0


def test_a_start_that_breaks_a_rule_is_not_built_upon() -> None:
    problem = crew_problem(10, 4, 5, 6)
    good = list_schedule(problem)
    broken_start = Schedule(tuple(replace(s, start=s.start - 96, end=s.end - 96) for s in good.stints))

    assert (
        room.check(
            problem, room.improve(problem, broken_start, monotonic, replace(QUICK, seconds=0.5)).schedule
        )
        == []
    )


def test_one_who_cancels_disturbs_as_little_as_can_be(broken: list[Finding]) -> None:
    """The first day's busiest stays away: the solver moves no more than the simple method, and not the gates."""
    problem = crew_problem(30, 5, 6, 6)
    told = list_schedule(problem)
    day = problem.days[0]
    person = told.stints[0].team[0]
    people = tuple(
        replace(p, hours=tuple(s for s in p.hours if s.start >= day.end)) if p.id == person else p
        for p in problem.people
    )
    now = replace(problem, people=people, last=told)
    simple = list_schedule(now)
    solved = room.improve(now, simple, monotonic, QUICK)

    assert broken == []
    assert rank(now, solved.figures) <= rank(now, figures(now, simple))


def test_who_was_stopped_goes_on_in_the_solvers_plan_too(broken: list[Finding]) -> None:
    """Two tasks with a stop in each, a and b alike: whatever the solver makes shorter, nobody takes over from another."""
    day = Span(0, 60)
    both = [("x", 6), ("y", 9)]
    tasks = [
        one
        for name, length in both
        for one in (
            Task(f"{name}1", length), Task(f"{name}!", 2, independent_of=(f"{name}1", name), after=(After(f"{name}1"),)),
            Task(name, length, after=(After(f"{name}!"),), goes_on=f"{name}1"),
        )
    ]  # fmt: skip
    problem = Problem(tuple(tasks), (Person("a", (day,)), Person("b", (day,)), Person("c", (day,))), (day,))
    start = list_schedule(problem)
    found: list[Schedule] = [start]
    solved = room.improve(problem, start, monotonic, QUICK, on_better=lambda one: found.append(one.schedule))

    assert broken == []
    for schedule in (*found, solved.schedule):
        team = {stint.task: stint.team for stint in schedule.stints}
        assert [team[f"{name}1"] == team[name] for name, _ in both] == [True, True]


def test_stopping_gives_the_best_so_far() -> None:
    problem = crew_problem(40, 6)
    start = list_schedule(problem)
    solved = room.improve(problem, start, monotonic, Limits(seconds=30), should_stop=lambda: True)

    assert solved.stopped
    assert rank(problem, solved.figures) <= rank(problem, figures(problem, start))


def test_what_is_fixed_is_a_constant(broken: list[Finding]) -> None:
    """A called lift outside everybody's hours stays where it is, with its team."""
    problem = crew_problem(15, 8, 5, 6)
    lift = next(t for t in problem.tasks if t.lift)
    set_lift = replace(lift, fixed=Fixed(problem.days[2].start - 20, ("p0", "p1", "p2")[: lift.people]))
    problem = replace(problem, tasks=tuple(set_lift if t.id == lift.id else t for t in problem.tasks))
    solved = room.improve(problem, list_schedule(problem), monotonic, replace(QUICK, seconds=1.5))

    assert broken == []
    assert next(s.start for s in solved.schedule.stints if s.task == lift.id) == problem.days[2].start - 20


def test_what_must_be_over_before_a_called_lift_is_planned_before_it(broken: list[Finding]) -> None:
    """The lift stands on the second day; without it the solver could leave clearing until last."""
    days = (Span(0, 50), Span(DAY, DAY + 50))
    tasks = (
        Task("lift", 10, 2, fixed=Fixed(DAY, ("x", "y")), after=(After("clear", 12),)),
        Task("clear", 30), Task("long", 40), Task("last", 20, after=(After("long"),)),
    )  # fmt: skip
    problem = Problem(tasks, (Person("x", days), Person("y", days)), days)
    solved = room.improve(problem, list_schedule(problem), monotonic, QUICK)

    assert broken == []
    assert solved.figures.overtaken == 0
    assert next(s.end for s in solved.schedule.stints if s.task == "clear") <= DAY - 12


# -- what must hold of the proved best


@st.composite
def small(draw: st.DrawFn) -> Problem:
    days = (Span(0, 8), Span(12, 20), Span(24, 40))
    people = tuple(
        Person(
            f"p{n}",
            tuple(d for d in days if n == 0 or draw(st.booleans())),
            frozenset({"k"} if n < 2 else ()),
        )
        for n in range(3)
    )
    tasks = []
    for n in range(draw(st.integers(2, 5))):
        after = tuple(
            After(f"t{b}", draw(st.sampled_from((0, 0, 3)))) for b in range(n) if draw(st.integers(0, 3)) == 0
        )
        needs = (Need("k"),) if draw(st.booleans()) else ()
        tools = (Use("w"),) if draw(st.booleans()) else ()
        tasks.append(Task(f"t{n}", draw(st.integers(1, 4)), needs=needs, after=after, tools=tools))
    return Problem(tuple(tasks), people, days, tools={"w": 1})


def best(problem: Problem) -> Solved:
    solved = room.improve(problem, list_schedule(problem), monotonic, PROOF)
    assert solved.proved and not solved.figures.unplaced
    return solved


@st.composite
def wide(draw: st.DrawFn) -> Problem:
    """Small, with more of what a problem may have: two at a task, checks by others, parts, hazards, zones, late parts. Two of
    three come every day, so that everything has a place whatever the third does."""
    plain = draw(small())
    tasks = []
    for task in plain.tasks:
        kind = draw(st.sampled_from(("plain", "two", "check", "part", "under", "jacking", "late", "tired")))
        more: dict[str, Any] = {
            "plain": {},
            "two": {"people": 2, "with_learner": task.duration + 1 if task.needs else None, "zone": "pit"},
            "check": {
                "independent_of": tuple(t.id for t in tasks[-1:] if t.people == 1),
                "needs": (Need("k"),),
            },
            "part": {"duration": task.duration + 3, "part": 2},
            "under": {"hazards": frozenset({"under"}), "present": 2},
            "jacking": {"hazards": frozenset({"jacking"})},
            "late": {"release": 6, "waits_for": "pump"},
            "tired": {"not_last": True},
        }[kind]
        tasks.append(replace(task, **more))
    people = tuple(replace(p, hours=plain.days) if p.id != "p2" else p for p in plain.people)
    return replace(
        plain, tasks=tuple(tasks), people=people, zones={"pit": 2}, tired_slots=1,
        never_beside=frozenset({frozenset({"under", "jacking"})}),
    )  # fmt: skip


def _hours(problem: Problem, **hours: tuple[Span, ...]) -> Problem:
    return replace(problem, people=tuple(replace(p, hours=hours.get(p.id, p.hours)) for p in problem.people))


EASIER: dict[str, Callable[[Problem], Problem]] = {
    "one more who comes every day": lambda p: replace(p, people=(*p.people, Person("p3", p.days, frozenset({"k"})))),
    "the third comes every day": lambda p: _hours(p, p2=p.days),
    "everybody stays two slots longer": lambda p: replace(
        _hours(p, **{one.id: tuple(Span(s.start, s.end + 2) for s in one.hours) for one in p.people}),
        days=tuple(Span(d.start, d.end + 2) for d in p.days),
    ),
    "another wrench": lambda p: replace(p, tools={"w": 2}),
    "everybody has the skill": lambda p: replace(p, people=tuple(replace(one, skills=frozenset({"k"})) for one in p.people)),
    "nothing must pass between": lambda p: replace(
        p, tasks=tuple(replace(t, after=tuple(replace(a, lag=0) for a in t.after)) for t in p.tasks)
    ),
    "the part is there": lambda p: replace(p, tasks=tuple(replace(t, release=0) for t in p.tasks)),
    "the last task is left out": lambda p: replace(p, tasks=p.tasks[:-1]),
}  # fmt: skip


@settings(max_examples=20, deadline=None)
@given(wide(), st.sampled_from(sorted(EASIER)))
def test_what_makes_it_easier_never_makes_the_proved_best_later(problem: Problem, name: str) -> None:
    """From both sides: one person less is what one more is the other way round. And what was proved is what was planned."""
    whole = best(problem)
    assert check(problem, whole.schedule) == []
    assert best(EASIER[name](problem)).figures.finish <= whole.figures.finish


@settings(max_examples=10, deadline=None)
@given(wide())
def test_a_replan_with_nothing_changed_changes_nothing(problem: Problem) -> None:
    """Neither of the simple method's plan nor of the solver's: everybody's time, people and company stand."""
    for told in (list_schedule(problem), best(problem).schedule):
        again = replace(problem, last=told)
        assert list_schedule(again) == told
        assert room.improve(again, list_schedule(again), monotonic, QUICK).schedule == told


@settings(max_examples=15, deadline=None)
@given(small())
def test_the_proved_best_is_the_best_of_all_orders(problem: Problem) -> None:
    """Against trying every start of every task, for up to three tasks; and no bound is above it."""
    problem = replace(problem, tasks=problem.tasks[:3])
    found = best(problem).figures.finish

    assert found == brute(problem)
    bounds = room.path_bound(problem), room.energy_bound(problem)
    assert max(bounds) <= worked(problem.days, found)


def brute(problem: Problem) -> int:
    """Every start and every person, slot by slot; tasks of this file's small kind only."""
    choices = []
    for task in problem.tasks:
        options = [
            (start, p.id)
            for p in problem.people
            if all(need.skill in p.skills for need in task.needs)
            for span in p.hours
            for start in range(span.start, span.end - task.duration + 1)
        ]
        choices.append(options)
    least = 10**9
    number = {task.id: n for n, task in enumerate(problem.tasks)}
    for picked in product(*choices):
        ends = [start + task.duration for (start, _), task in zip(picked, problem.tasks, strict=True)]
        if max(ends) >= least:
            continue
        if any(
            picked[n][0] < ends[number[after.task]] + after.lag
            for n, task in enumerate(problem.tasks)
            for after in task.after
        ):
            continue
        if any(
            picked[a][0] < ends[b]
            and picked[b][0] < ends[a]
            and (picked[a][1] == picked[b][1] or (problem.tasks[a].tools and problem.tasks[b].tools))
            for a in range(len(ends))
            for b in range(a)
        ):
            continue
        least = max(ends)
    return least
