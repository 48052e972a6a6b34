"""The simple method: plans worked out by hand, and plans of every size held against the checker."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.crews import DAY, crew_problem
from yokemate.planning.board import Board
from yokemate.planning.check import check
from yokemate.planning.counting import Meter, at_least, span_mask, starts_of
from yokemate.planning.difference import difference
from yokemate.planning.figures import figures, rank
from yokemate.planning.jobs import jobs_of
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

SATURDAY, SUNDAY = Span(96, 204), Span(DAY + 96, DAY + 204)  # 8:00 to 17:00


def crew(*ids: str, hours: tuple[Span, ...] = (SATURDAY, SUNDAY), skills: str = "") -> tuple[Person, ...]:
    return tuple(Person(n, hours, frozenset(skills.split())) for n in ids)


def at(schedule: Schedule, task: str) -> Stint:
    return next(s for s in schedule.stints if s.task == task)


@pytest.mark.parametrize(
    ("tasks", "people", "weeks"), [(10, 5, 6), (50, 6, 10), (200, 8, 10), (500, 12, 14), (1_000, 14, 26)]
)
@pytest.mark.parametrize("seed", [1, 2])
def test_plans_of_every_size_keep_every_rule(tasks: int, people: int, weeks: int, seed: int) -> None:
    """R13, R27, R28 and the rest: the checker finds nothing, and everything has a place."""
    problem = crew_problem(tasks, seed, people, weeks)
    schedule = list_schedule(problem)

    assert check(problem, schedule) == []
    assert schedule.unplaced == ()


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 30), st.integers(0, 10_000), st.integers(1, 6), st.integers(1, 3))
def test_whatever_finds_no_place_is_named_and_the_rest_keeps_every_rule(tasks, seed, people, weeks) -> None:
    """Small crews and few weeks: much has no place."""
    problem = crew_problem(tasks, seed, people, weeks)
    schedule = list_schedule(problem, passes=2)

    assert check(problem, schedule) == []
    assert {s.task for s in schedule.stints} | set(schedule.unplaced) == {t.id for t in problem.tasks}


def test_a_plan_justified_twice_uses_the_room_it_had() -> None:
    """Three wrenches. By latest start: a (3 slots, 1 wrench) and b (2, 1) at 0, c (2, 2) at 2, d (2, 2, after b) at 4,
    done at 6. Backward from 6, each as late as it can: d at 4, c at 2 (with d it would want four), a at 3, b at 1. So b
    and c begin before a, forward: b and c at 0, a and d at 2, done at 5. The work is 3 + 2 + 4 + 4 = 13 wrench
    slots, 5 slots of 3 wrenches at least: no plan is shorter.
    """
    tasks = tuple(
        Task(id, long, 0, tools=(Use("wrench", count),), after=after)
        for id, long, count, after in (
            ("a", 3, 1, ()),
            ("b", 2, 1, ()),
            ("c", 2, 2, ()),
            ("d", 2, 2, (After("b"),)),
        )
    )
    problem = Problem(tasks, tools={"wrench": 3}, horizon=40)

    assert max(s.end for s in list_schedule(problem).stints) == 6
    assert max(s.end for s in list_schedule(problem, passes=2).stints) == 5


def test_the_last_place_is_in_the_last_day_with_room_for_the_whole_of_it() -> None:
    """By Sunday 9:00 (slot 396), 12 slots of critical torque, 6 tired slots: Sunday has from 8:00 (384), 384 to 396;
    a slot earlier leaves Saturday, from 186 to its last fresh slot, 198. Before 10:00 on Saturday (120): nowhere."""
    problem = Problem(
        (Task("torque", 12, release=120, not_last=True),), crew("ann"), (SATURDAY, SUNDAY), tired_slots=6
    )
    jobs = jobs_of(problem)
    board = Board(problem, jobs)

    assert board.find_last(jobs[0], 396) == (384, 396, (0,))
    assert board.find_last(jobs[0], 395) == (186, 198, (0,))
    assert board.find_last(jobs[0], 131) is None


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 40), st.integers(0, 10_000))
def test_nothing_changed_changes_nothing(tasks: int, seed: int) -> None:
    """Planned again with the plan people were told, it comes back as it was, company and joiners too."""
    problem = crew_problem(tasks, seed)
    told = list_schedule(problem, passes=3, seed=seed)

    assert list_schedule(replace(problem, last=told), passes=3) == told


def test_a_cure_runs_on_the_calendar_and_a_day_s_end_is_no_time_to_begin() -> None:
    """Sealed Saturday 8:00 to 9:00, 24 h of cure: Sunday 9:00, not after 24 h of work. By hand."""
    problem = Problem(
        (Task("seal", 12), Task("fill", 12, after=(After("seal", DAY),))), crew("a"), (SATURDAY, SUNDAY)
    )
    schedule = list_schedule(problem)

    assert at(schedule, "seal").start == 96
    assert at(schedule, "fill").start == 108 + DAY


def test_r28_one_alone_waits_until_somebody_else_is_in_and_that_one_is_asked_along() -> None:
    """Aled could begin at 8:00; Bram comes at 10:00 and has no work."""
    late = Person("bram", (Span(120, 204),))
    problem = Problem(
        (Task("under", 6, eligible=frozenset({"aled"}), present=2),),
        (*crew("aled"), late),
        (SATURDAY, SUNDAY),
    )
    stint = at(list_schedule(problem), "under")

    assert (stint.start, stint.company) == (120, ("bram",))


def test_r13_the_check_is_by_somebody_else_and_soon() -> None:
    """Only b and c may check; b alone knows brakes. The check waits for nobody else: c does it at once."""
    b = Person("b", (SATURDAY,), frozenset({"check", "brakes"}))
    c = Person("c", (SATURDAY,), frozenset({"check"}))
    tasks = (
        Task("torque", 6, needs=(Need("brakes"),)),
        Task("sign", 2, needs=(Need("check"),), independent_of=("torque",), after=(After("torque", soon=6),)),
    )
    schedule = list_schedule(Problem(tasks, (b, c), (SATURDAY,)))

    assert at(schedule, "sign") == Stint("sign", 102, 104, ("c",))


def test_the_one_who_must_check_does_not_do_the_work() -> None:
    """a and b could both turn the bolts, only b may check: a turns them."""
    a, b = Person("a", (SATURDAY,)), Person("b", (SATURDAY,), frozenset({"check"}))
    tasks = (
        Task("torque", 6),
        Task("sign", 2, needs=(Need("check"),), independent_of=("torque",), after=(After("torque"),)),
    )
    schedule = list_schedule(Problem(tasks, (b, a), (SATURDAY,)))

    assert (at(schedule, "torque").team, at(schedule, "sign").team) == (("a",), ("b",))


def test_a_long_task_is_split_only_where_the_plan_allows() -> None:
    """Ten hours in days of nine: in parts over both days, or not at all."""
    problem = Problem((Task("wire", 120, part=12),), crew("a"), (SATURDAY, SUNDAY))
    whole = Problem((Task("wire", 120),), crew("a"), (SATURDAY, SUNDAY))
    schedule = list_schedule(problem)

    assert check(problem, schedule) == []
    assert [(s.start, s.end) for s in schedule.stints] == [(96, 204), (DAY + 96, DAY + 108)]
    assert list_schedule(whole) == Schedule((), ("wire",))


def test_what_is_fixed_stands_and_the_rest_goes_round_it() -> None:
    """A called lift at 10:00 with a and b: the crane and both are taken then."""
    tasks = (
        Task("lift", 12, 2, fixed=Fixed(120, ("a", "b")), tools=(Use("crane"),)),
        Task("hoist", 30, tools=(Use("crane"),)),
    )
    problem = Problem(tasks, crew("a", "b"), (SATURDAY,), tools={"crane": 1})
    schedule = list_schedule(problem)

    assert check(problem, schedule) == []
    assert at(schedule, "lift") == Stint("lift", 120, 132, ("a", "b"))
    assert at(schedule, "hoist").start == 132


def test_a_learner_takes_longer_where_the_crew_says_so() -> None:
    """With both skilled 12 slots; only from 12:00 on are both there. With the learner at once: 15, over sooner."""
    a, b = Person("a", (SATURDAY,), frozenset({"fuel"})), Person("b", (SATURDAY,))
    c = Person("c", (Span(144, 204),), frozenset({"fuel"}))
    problem = Problem((Task("line", 12, 2, needs=(Need("fuel"),), with_learner=15),), (a, b, c), (SATURDAY,))
    schedule = list_schedule(problem)

    assert schedule.stints == (Stint("line", 96, 111, ("a", "b")),)
    assert check(problem, schedule) == []


def test_stretches_with_a_learner_add_up_to_the_longer_figure() -> None:
    """Two at it, one of whom must be skilled: b learns in both of a's stretches. 90 slots, with a learner 120, in days of 108."""
    people = (*crew("a", skills="brakes"), *crew("b"))
    task = Task("t", 90, 2, needs=(Need("brakes"),), with_learner=120, part=40)
    problem = Problem((task,), people, (SATURDAY, SUNDAY))
    schedule = list_schedule(problem)

    assert check(problem, schedule) == []
    assert sum(s.end - s.start for s in schedule.stints) == 120


def test_who_has_work_in_hand_stays_with_it_and_others_come_to_it() -> None:
    """Two for an hour, one with welding. In b's hands, who welds and is in from 12:00 on: c, who could weld at once with a,
    does not get it. In c's and b's: both have a seat though each of them could take the only one that needs a skill.
    """
    b = Person("b", (Span(144, 204),), frozenset({"weld"}))
    people = (*crew("a"), b, *crew("c", skills="weld"))
    held = Task("t", 12, 2, needs=(Need("weld"),), holders=frozenset({"b"}))
    problem = Problem((held,), people, (SATURDAY, SUNDAY))

    assert list_schedule(problem).stints == (Stint("t", 144, 156, ("a", "b")),)
    assert at(
        list_schedule(replace(problem, tasks=(replace(held, holders=frozenset({"b", "c"})),))), "t"
    ).team == ("b", "c")


def test_each_holder_gets_a_seat_where_there_is_a_way() -> None:
    """One seat for fuel, one for brakes. a has both, b brakes, c fuel: in a's and b's hands, c, first with fuel, stays out."""
    people = (*crew("a", skills="fuel brakes"), *crew("b", skills="brakes"), *crew("c", skills="fuel"))
    task = Task("t", 12, 2, needs=(Need("fuel"), Need("brakes")), holders=frozenset({"a", "b"}))

    assert list_schedule(Problem((task,), people, (SATURDAY,))).stints == (Stint("t", 96, 108, ("a", "b")),)


def test_a_cancelled_morning_moves_what_it_must_and_names_it() -> None:
    """b cannot come on Saturday: the lift with b moves to Sunday, the work of a alone stays."""
    tasks = (Task("lift", 12, 2), Task("tidy", 6, eligible=frozenset({"a"})))
    told = list_schedule(Problem(tasks, crew("a", "b"), (SATURDAY, SUNDAY)))
    now = Problem(tasks, (*crew("a"), *crew("b", hours=(SUNDAY,))), (SATURDAY, SUNDAY), last=told)
    new = list_schedule(now)

    assert [(c.kind, c.task) for c in difference(told, new)] == [("stays", "tidy"), ("moved", "lift")]
    assert figures(now, new).moved == 1


@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(0, 30), st.integers(1, 20)), max_size=12),
    st.integers(1, 20),
)
def test_a_meter_counts_like_counting_slot_by_slot(uses: list[tuple[int, int, int]], capacity: int) -> None:
    """Adding and taking back on masks against plain sums."""
    meter = Meter(capacity, 60)
    count = [0] * 60
    for amount, start, length in uses:
        meter.add(amount, span_mask(start, start + length))
        for slot in range(start, start + length):
            count[slot] += amount
    if uses:
        amount, start, length = uses[0]
        meter.take(amount, span_mask(start, start + length))
        for slot in range(start, start + length):
            count[slot] -= amount
    for want in (1, 3, capacity):
        assert meter.room(want) == sum(1 << s for s in range(60) if count[s] + want <= capacity)


def test_runs_and_counts_on_masks() -> None:
    """By hand: 0b0111011 has two in a row from 0, 3 and 4, three from 3."""
    assert starts_of(0b0111011, 2) == 0b0011001
    assert starts_of(0b0111011, 3) == 0b0001000
    assert at_least(2, [0b110, 0b011, 0b010]) == 0b010


def test_who_stays_away_moves_nobody_elses_day() -> None:
    """x was to do a at once, y does b, c, d one after the other; x comes on the second day only. One after the other, a would
    take y's first hour, b the second, and so on: four moves. Where the rest stays, a alone moves, to when y is done.
    """
    days = (Span(0, 60), Span(DAY, DAY + 60))
    tasks = tuple(Task(name, 10) for name in "abcd")
    told = Schedule(
        (
            Stint("a", 0, 10, ("x",)),
            Stint("b", 0, 10, ("y",)),
            Stint("c", 10, 20, ("y",)),
            Stint("d", 20, 30, ("y",)),
        )
    )
    people = (Person("x", (days[1],)), Person("y", days))
    problem = Problem(tasks, people, days, gates=(Gate("g", frozenset("abcd"), 60),), last=told)
    schedule = list_schedule(problem)

    assert check(problem, schedule) == []
    assert {s.task: (s.start, s.team) for s in schedule.stints} == {
        "a": (30, ("y",)), "b": (0, ("y",)), "c": (10, ("y",)), "d": (20, ("y",)),
    }  # fmt: skip


def test_a_few_minutes_at_the_end_move_nobody_but_a_date_does() -> None:
    """Ten tasks were told for 0 to 6, an eleventh for 54 to 60. To put one of them at 55, so that all ends a slot of five minutes
    later, weighs 7 + 3; so it is better than to move four, 12, and worse than to move three, 9. Where a gate with a date stands
    behind them, that is told for the same hour, the slot counts twice: 17 lies between five and six. The next day breaks the date.
    """
    days = (Span(0, 100), Span(DAY, DAY + 100))
    names = [f"t{n}" for n in range(10)]
    tasks = tuple(Task(name, 6) for name in (*names, "last"))
    told = Schedule((*(Stint(name, 0, 6, (name,)) for name in names), Stint("last", 54, 60, ("z",))))

    def moved(*starts: int) -> Schedule:
        stints = (
            Stint(name, to, to + 6, (name,)) for name, to in zip(names, (*starts, *[0] * 10), strict=False)
        )
        return Schedule((*stints, Stint("last", 54, 60, ("z",))))

    for gates, fewer in (((), 3), ((Gate("g", frozenset(names), 60),), 5)):
        problem = Problem(tasks, (), days, gates=gates, last=told)
        ranks = {
            one: rank(problem, figures(problem, moved(*one)))
            for one in ((55,), (6,) * fewer, (6,) * (fewer + 1), (DAY,), (6,) * 10)
        }
        assert ranks[(6,) * fewer] < ranks[(55,)] < ranks[(6,) * (fewer + 1)]
        assert ranks[(6,) * 10] < ranks[(DAY,)]


def test_what_waits_for_what_moved_moves_too() -> None:
    """b follows a, which x can't do before the second day; c, which nothing holds, stays."""
    days = (Span(0, 60), Span(DAY, DAY + 60))
    tasks = (Task("a", 10, eligible=frozenset("x")), Task("b", 10, after=(After("a"),)), Task("c", 10))
    told = Schedule((Stint("a", 0, 10, ("x",)), Stint("b", 10, 20, ("y",)), Stint("c", 20, 30, ("y",))))
    people = (Person("x", (days[1],)), Person("y", days))
    problem = Problem(tasks, people, days, last=told)
    schedule = list_schedule(problem)

    assert check(problem, schedule) == []
    at = {s.task: s.start for s in schedule.stints}
    assert at == {"a": DAY, "b": DAY + 10, "c": 20}
