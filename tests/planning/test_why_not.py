"""Why there is no plan, what would make one, times for a lift, and what is no problem at all. All worked out by hand."""

import itertools
from dataclasses import replace

import pytest

from planning.crews import crew_problem
from yokemate.planning import why_not as why
from yokemate.planning.check import check
from yokemate.planning.faults import faults
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import (
    After,
    Fixed,
    Gate,
    Need,
    Person,
    Problem,
    Schedule,
    Span,
    Stint,
    Task,
    Use,
)
from yokemate.planning.why_not import why_not
from yokemate.planning.windows import window_at, windows_for

SAT, SUN = Span(96, 204), Span(384, 492)


def crew(**hours: tuple[Span, ...]) -> tuple[Person, ...]:
    return tuple(Person(name, spans) for name, spans in hours.items())


def test_three_are_needed_and_only_two_are_ever_free_together() -> None:
    """R21: counts and days only. One more person on either day makes a plan; each remedy was tried."""
    people = crew(a=(SAT, SUN), b=(SAT,), c=(SUN,))
    reason = why_not(Problem((Task("lift", 12, 3),), people, (SAT, SUN)))[0]

    assert (reason.code, reason.about["wanted"], reason.about["most"]) == ("never_together", 3, 2)
    assert [(r.code, r.about["day"]) for r in reason.remedies if r.code == "person"] == [
        ("person", 96),
        ("person", 384),
    ]


def test_two_more_are_offered_where_one_is_not_enough() -> None:
    """Four are needed, two are in on Saturday, one on Sunday: two more on Saturday make a plan, three more on Sunday would;
    what is offered is what was tried, the same number for each day.
    """
    people = crew(a=(SAT, SUN), b=(SAT,))
    reason = why_not(Problem((Task("lift", 12, 4),), people, (SAT, SUN)))[0]
    offered = [(r.about["day"], r.about["count"]) for r in reason.remedies if r.code == "person"]
    assert offered == [(96, 2)]


def test_a_skill_is_never_there_twice_at_once() -> None:
    """Two must be skilled; a and b are never in together, c is not skilled."""
    people = (
        Person("a", (SAT,), frozenset({"weld"})), Person("b", (SUN,), frozenset({"weld"})), Person("c", (SAT, SUN)),
    )  # fmt: skip
    reason = why_not(Problem((Task("frame", 6, 2, needs=(Need("weld", 2),)),), people, (SAT, SUN)))[0]

    assert (reason.code, reason.about["skill"], reason.about["most"]) == ("skill_never_together", "weld", 1)


def test_a_part_comes_too_late_and_how_much_earlier_would_do() -> None:
    """It comes Sunday 16:00 (480); 2 h of work; Sunday's opening would do: 96 slots earlier."""
    problem = Problem((Task("fit", 24, release=480, waits_for="pump"),), crew(a=(SAT, SUN)), (SAT, SUN))
    reason = why_not(problem)[0]

    assert (reason.code, reason.about["part"]) == ("late_part", "pump")
    assert reason.remedies[0].about == {"part": "pump", "slots": 96}


def test_followers_name_whom_they_follow_and_checks_that_nobody_is_left() -> None:
    """The only one who may check does the work alone: nobody else can."""
    a = Person("a", (SAT,), frozenset({"check"}))
    tasks = (
        Task("torque", 6),
        Task("sign", 2, needs=(Need("check"),), independent_of=("torque",), after=(After("torque"),)),
        Task("close", 2, after=(After("sign"),)),
    )
    reasons = why_not(Problem(tasks, (a,), (SAT,)))

    assert [(r.code, r.task) for r in reasons] == [("independent", "sign"), ("follows", "close")]


def test_what_comes_too_late_for_a_called_lift_is_said() -> None:
    """The lift stands at 10:00 (120); the work before it takes until 10:30 (126): half an hour late."""
    tasks = (Task("clear", 30), Task("lift", 12, fixed=Fixed(120, ("b",)), after=(After("clear"),)))
    reasons = why_not(Problem(tasks, crew(a=(SAT,), b=(SAT,)), (SAT,)))

    assert [(r.code, r.task, r.about) for r in reasons] == [
        ("late_for", "clear", {"task": "lift", "slots": 6})
    ]


@pytest.mark.parametrize(
    ("task", "code"),
    [
        (Task("x", 6, 2, eligible=frozenset({"a"})), "too_few"),
        (Task("x", 6, needs=(Need("brakes"),)), "skill"),
        (Task("x", 6, tools=(Use("crane", 2),)), "tool"),
        (Task("x", 6, 2, zone="pit"), "zone"),
        (Task("x", 105, not_last=True), "tired"),
        (Task("x", 105, present=3), "alone"),
    ],
)
def test_each_reason_by_itself(task: Task, code: str) -> None:
    """Two people, 108 slots a day, one crane, room for one in the pit."""
    problem = Problem((task,), crew(a=(SAT,), b=(SAT,)), (SAT,), tools={"crane": 1}, zones={"pit": 1})

    assert [reason.code for reason in why_not(problem)] == [code]


def test_an_hour_more_is_offered_where_it_is_enough() -> None:
    """Nine hours and a half of work in a day of nine: half an hour more."""
    reason = why_not(Problem((Task("x", 114),), crew(a=(SAT,)), (SAT,)))[0]

    assert (reason.remedies[0].code, reason.remedies[0].about) == ("hours", {"day": 96, "slots": 6})


def test_work_longer_than_any_day_waits_and_the_rest_is_planned() -> None:
    """Nine hours and 5 minutes (109) in days of nine (108): the day half an hour longer, or in stretches of 2 h, would do."""
    problem = Problem((Task("long", 109), Task("y", 6)), crew(a=(SAT, SUN)), (SAT, SUN))
    schedule = list_schedule(problem)

    assert faults(problem) == []
    assert check(problem, schedule) == []
    assert (schedule.unplaced, [s.task for s in schedule.stints]) == (("long",), ["y"])
    [reason] = why_not(problem, schedule)
    assert (reason.code, reason.about) == ("too_long", {"slots": 109, "most": 108})
    assert [(r.code, r.about["slots"]) for r in reason.remedies][:2] == [("stretches", 24), ("hours", 6)]


def test_a_part_of_which_nobody_knows_when_it_comes_holds_its_work() -> None:
    """Two tasks lack the pump; with a date for it both have a place. What follows says whom it follows; the rest is planned."""
    tasks = (
        Task("fit", 6, undated=("pump",)),
        Task("bleed", 6, undated=("pump",), after=(After("fit"),)),
        Task("y", 6),
    )
    problem = Problem(tasks, crew(a=(SAT,)), (SAT,))
    schedule = list_schedule(problem)
    reasons = why_not(problem, schedule)

    assert check(problem, schedule) == []
    assert schedule.unplaced == ("fit", "bleed")
    assert [(r.code, r.task) for r in reasons] == [("no_date", "fit"), ("follows", "bleed")]
    assert [(r.code, r.about) for r in reasons[0].remedies] == [("date", {"parts": ("pump",)})]


def test_work_in_the_hands_of_somebody_who_does_not_come_is_said() -> None:
    """b gave no hours: passed on, a does it."""
    problem = Problem((Task("t", 12, holders=frozenset({"b"})),), crew(a=(SAT,), b=()), (SAT,))
    [reason] = why_not(problem)

    assert (reason.code, reason.about) == ("holders", {"people": ("b",), "slots": 12})
    assert reason.remedies[0].code == "passed_on"


def test_a_planted_want_in_a_large_crew_is_found() -> None:
    """One task of 200 asks for more welders than there ever are together."""
    problem = crew_problem(200, 3)
    tasks = tuple(replace(t, people=9) if t.id == "t150" else t for t in problem.tasks)
    reasons = why_not(replace(problem, tasks=tasks))

    assert [r.code for r in reasons if r.task == "t150"] == ["too_few"]
    assert {r.code for r in reasons if r.task != "t150"} <= {"follows"}


def test_what_takes_its_place_is_named_by_kind() -> None:
    """Two jobs of 60 on one press in one day of 108: a second press would do, and so would no other work."""
    tasks = (Task("x", 60, tools=(Use("press"),)), Task("y", 60, tools=(Use("press"),)))
    [reason] = why_not(Problem(tasks, crew(a=(SAT,), b=(SAT,)), (SAT,), tools={"press": 1}))

    assert reason.code == "full"
    assert reason.about["relieved_by"] == ("tools", "other_work")


def test_a_crew_far_too_small_is_answered_within_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two hundred tasks in one week-end: a reason for each, and no more than so many plans made to try remedies."""
    made = []
    real = why.list_schedule
    monkeypatch.setattr(
        why, "list_schedule", lambda problem: made.append(len(problem.tasks)) or real(problem)
    )
    problem = crew_problem(200, 1, 4, 1)
    reasons = why_not(problem)

    assert {r.task for r in reasons} == set(list_schedule(problem).unplaced)
    assert sum(count > 100 for count in made) <= 90


def test_the_best_times_for_a_lift_with_what_they_cost() -> None:
    """Two days with both; the lift waits for 2 h of work and holds up 5 h. Saturday 10:00 (120), as planned, costs nothing.
    The next window, 11:00 (132), ends all at 17:00: an hour later. From 12:00 on the 5 h are for Sunday, 8:00 to 13:00: 108
    + 60 slots of work instead of 96, whether the lift is at 12:00 or 13:00 (144, 156): the sooner of the two is offered.
    """
    tasks = (
        Task("clear", 24, eligible=frozenset({"a"})),
        Task("lift", 12, 2, after=(After("clear"),), lift=True),
        Task("rest", 60, after=(After("lift"),)),
    )
    problem = Problem(
        tasks, crew(a=(SAT, SUN), b=(SAT, SUN)), (SAT, SUN), gates=(Gate("end", frozenset({"rest"})),)
    )
    found = windows_for(problem, "lift", lambda: 0.0)

    assert [(o.start, o.cost, o.before, o.gates_late) for o in found.offers] == [
        (120, 0, ("clear",), ()),
        (132, 12, ("clear",), ("end",)),
        (144, 72, ("clear",), ("end",)),
    ]
    assert found.all_days


def test_what_a_time_costs_is_counted_from_the_plan_that_stands() -> None:
    """The lift stands on Saturday at 8:00, then 5 h of work: 72 slots. b comes on Sunday only now: the plan that stands is
    mended to Sunday 8:00, and what the lift costs there is nothing. Were b in, Sunday would cost 108 + 72 - 72 = 108.
    """
    tasks = (Task("lift", 12, 2), Task("rest", 60, after=(After("lift"),)))
    last = Schedule((Stint("lift", 96, 108, ("a", "b")), Stint("rest", 108, 168, ("a",))))
    both = Problem(tasks, crew(a=(SAT, SUN), b=(SAT, SUN)), (SAT, SUN), last=last)
    gone = replace(both, people=crew(a=(SAT, SUN), b=(SUN,)))

    assert windows_for(both, "lift", lambda: 0.0).offers[0].start == 96
    sunday = window_at(both, "lift", 384)
    assert sunday is not None
    assert sunday.cost == 108
    best = windows_for(gone, "lift", lambda: 0.0).offers[0]
    assert (best.start, best.cost) == (384, 0)


def test_a_time_earlier_than_told_plans_what_comes_before_anew() -> None:
    """Told: clear at 10:00, the lift at 12:00. 8:30, after half an hour of clearing, is offered too: all is over sooner."""
    tasks = (Task("clear", 6), Task("lift", 12, 2, after=(After("clear"),)))
    last = Schedule((Stint("clear", 120, 126, ("a",)), Stint("lift", 144, 156, ("a", "b"))))
    problem = Problem(tasks, crew(a=(SAT,), b=(SAT,)), (SAT,), last=last)
    first = windows_for(problem, "lift", lambda: 0.0).offers[0]

    assert (first.start, first.before, first.cost < 0) == (102, ("clear",), True)


def test_looking_for_times_ends_when_the_clock_says_so() -> None:
    """A clock that goes on by a quarter of a second whenever it is asked: three windows in the second that is given."""
    ticks = itertools.count()
    problem = crew_problem(50, 2, 6)
    lift = next(t.id for t in problem.tasks if t.lift)
    found = windows_for(problem, lift, lambda: next(ticks) / 4, seconds=1.0)

    assert next(ticks) <= 5
    assert not found.all_days


def test_a_time_that_no_longer_holds_is_none() -> None:
    """b has cancelled the morning since: 8:00 is gone, 13:00 is there."""
    problem = Problem((Task("lift", 12, 2),), crew(a=(SAT,), b=(Span(156, 204),)), (SAT,))

    assert window_at(problem, "lift", 96) is None
    assert window_at(problem, "lift", 500) is None
    later = window_at(problem, "lift", 156)
    assert later is not None
    assert later.team == ("a", "b")


def test_times_in_a_large_crew_keep_every_rule() -> None:
    """Each offer's plan is held against the checker."""
    problem = crew_problem(50, 2, 6)
    lift = next(t.id for t in problem.tasks if t.lift)
    offers = windows_for(problem, lift, lambda: 0.0).offers

    assert 1 <= len(offers) <= 3
    assert offers[0].cost == min(o.cost for o in offers if len(o.gates_late) == len(offers[0].gates_late))
    assert all(a.end <= b.start or b.end <= a.start for a, b in itertools.combinations(offers, 2))
    for offer in offers:
        assert check(problem, offer.schedule) == []


def test_a_good_problem_has_no_faults() -> None:
    assert faults(crew_problem(50, 1)) == []


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("overlap", {"people": (Person("a", (Span(96, 120), Span(110, 130))),)}),
        ("empty_span", {"people": (Person("a", (Span(120, 110),)),)}),
        ("outside_days", {"people": (Person("a", (Span(96, 300),)),)}),
        ("twice", {"tasks": (Task("t", 1), Task("t", 2))}),
        ("unknown", {"tasks": (Task("t", 1, after=(After("gone"),)),)}),
        ("circle", {"tasks": (Task("t", 1, after=(After("u"),)), Task("u", 1, after=(After("t"),)))}),
        ("impossible_count", {"tools": {"crane": -1}}),
        ("impossible_count", {"tasks": (Task("t", 0),)}),
        ("too_many", {"people": tuple(Person(f"p{n}", ()) for n in range(1000))}),
    ],
)
def test_what_is_no_problem_is_said(code: str, change: dict[str, object]) -> None:
    """R32: overlapping hours, an end before its start, circles, a thousand people."""
    problem = replace(Problem((Task("t", 6),), crew(a=(SAT,)), (SAT, SUN)), **change)  # type: ignore[arg-type]

    assert code in {fault.code for fault in faults(problem)}


def test_a_reason_of_a_task_by_itself_costs_few_plans_of_everything(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted in plans made, for seconds are the machine's: what would not do even with nothing else going on is not
    tried on a plan of everything. Each remedy takes one such plan, and the simple method's own one more.
    """
    problem = crew_problem(50, 3, 6)
    wanted = Task("many", 12, 7)
    asked = replace(problem, tasks=(*problem.tasks, wanted))
    sizes: list[int] = []

    def counted(one: Problem, *more: object) -> Schedule:
        sizes.append(len(one.tasks))
        return list_schedule(one, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(why, "list_schedule", counted)
    [found] = [one for one in why_not(asked) if one.task == "many"]
    assert found.remedies
    assert sum(size == len(asked.tasks) for size in sizes) <= 2 + len(found.remedies)
