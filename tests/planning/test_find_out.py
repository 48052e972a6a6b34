"""Planted faults whose causes are exact by construction; each is reasoned out by hand. Nothing with a plan gets a reason."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.crews import crew_problem
from yokemate.planning import proof
from yokemate.planning.causes import Causes, Demand
from yokemate.planning.check import check
from yokemate.planning.find_out import find_out, to_find_out
from yokemate.planning.jobs import ends_of
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import After, Fixed, Gate, Need, Person, Problem, Schedule, Span, Task, Use
from yokemate.planning.reasons import Cause, Reason

SAT, SUN = Span(96, 204), Span(384, 492)  # 8:00 to 17:00: 108 slots of 5 min each
A, B, C = (Person(name, (SAT,)) for name in "abc")


def never() -> bool:
    return False


def reasons(problem: Problem) -> list[Reason]:
    return list(find_out(problem, list_schedule(problem), never).reasons)


def two(**each: object) -> tuple[Task, Task]:
    """Two of 60 slots: one after the other they take 120 of the 108 that a day has."""
    return Task("x", 60, **each), Task("y", 60, **each)  # type: ignore[arg-type]


CRANE = (Use("crane"),)
BY_A = frozenset({"a"})
UNDER, JACKS = frozenset({"under_car"}), frozenset({"jacking"})
X = Cause("work", ("x",))

PLANTED = {
    # The only press: one after the other they don't fit; a and b could else work side by side.
    "tool": (
        Problem(two(tools=(Use("press"),)), (A, B), (SAT,), tools={"press": 1}),
        {Cause("tool", ("press",)), X},
    ),
    # The pit holds one.
    "zone": (Problem(two(zone="pit"), (A, B), (SAT,), zones={"pit": 1}), {Cause("zone", ("pit",)), X}),
    # Only a welds.
    "skill": (
        Problem(two(needs=(Need("weld"),)), (replace(A, skills=frozenset({"weld"})), B), (SAT,)),
        {Cause("skill", ("weld",)), X},
    ),
    # Both may not go on side by side.
    "hazard": (
        Problem((Task("x", 60, hazards=UNDER), Task("y", 60, hazards=JACKS)), (A, B), (SAT,), never_beside=frozenset({UNDER | JACKS})),
        {Cause("hazard", ("jacking", "under_car")), X},
    ),
    # Only a may, who comes for an hour on Sunday; b is in on both days from first to last.
    "hours": (
        Problem(two(eligible=BY_A), (Person("a", (SAT, Span(384, 396))), Person("b", (SAT, SUN))), (SAT, SUN)),
        {Cause("hours", ("a", "384")), X},
    ),
    # One pair of hands, three pieces of work, of which any two are too much: no cause but one of the others.
    "work": (Problem((Task("x", 60), Task("y", 60)), (A,), (SAT,)), {X}),
    # Each 54 of a's 108; whichever comes second ends at the day's end, where neither may be. One alone could come first.
    "tired": (
        Problem((Task("x", 54, not_last=True), Task("y", 54, not_last=True)), (A,), (SAT,)),
        {Cause("tired", ("x",)), Cause("tired", ("y",)), X},
    ),
    # Both of a and b do the work and nobody else may check. c could, if that asked for no skill; a, if it might be a.
    "independence": (
        Problem(
            (
                Task("torque", 6, 2, needs=(Need("check", 2),)),
                Task("sign", 2, needs=(Need("check"),), independent_of=("torque",), after=(After("torque"),)),
            ),
            (replace(A, skills=frozenset({"check"})), replace(B, skills=frozenset({"check"})), C), (SAT,),
        ),
        {Cause("independence", ("sign",)), Cause("skill", ("check",))},
    ),
    # y follows x and would take a from 108 to 148; it is never done alone, and b leaves at noon (144).
    "company": (
        Problem((Task("x", 12), Task("y", 40, eligible=BY_A, present=2, after=(After("x"),))), (A, Person("b", (Span(96, 144),))), (SAT,)),
        {Cause("company", ("y",)), Cause("hours", ("b", "96"))},
    ),
    # Sealed by 108 at the earliest, cured 96 later: 204, when the day ends.
    "cure": (
        Problem((Task("seal", 12), Task("fill", 12, after=(After("seal", 96),))), (A,), (SAT,)),
        {Cause("cure", ("seal", "fill"))},
    ),
    # The pump is there at 408; fitted by 420, cured by 492, when the last day ends. A day earlier, or no cure, would do.
    "part and cure": (
        Problem(
            (Task("fit", 12, release=408, waits_for="pump"), Task("close", 12, after=(After("fit", 72),))),
            (Person("a", (SAT, SUN)),), (SAT, SUN),
        ),
        {Cause("part", ("pump",)), Cause("cure", ("fit", "close"))},
    ),
    # The pump is there at 384; 12 and 24 make 420, wanted by 400.
    "part and gate": (
        Problem(
            (Task("fit", 12, release=384, waits_for="pump"), Task("fill", 24, after=(After("fit"),)), Task("other", 60)),
            tuple(Person(name, (SAT, SUN)) for name in "abcd"), (SAT, SUN), gates=(Gate("start", frozenset({"fill", "other"}), wanted=400),),
        ),
        {Cause("part", ("pump",)), Cause("gate", ("start",))},
    ),
    # The lift stands at 120 with b; 30 of work from 96 end at 126.
    "appointment": (
        Problem((Task("clear", 30), Task("lift", 12, lift=True, fixed=Fixed(120, ("b",)), after=(After("clear"),))), (A, B), (SAT,)),
        {Cause("appointment", ("lift",))},
    ),
    # A called lift holds the crane from 140 to 170: 60 on it fit neither before (96 to 140) nor after (170 to 204).
    "appointment and tool": (
        Problem(
            (Task("x", 60, tools=CRANE), Task("lift", 30, lift=True, tools=CRANE, fixed=Fixed(140, ("b",)))),
            (A, B, C), (SAT,), tools={"crane": 1},
        ),
        {Cause("appointment", ("lift",)), Cause("tool", ("crane",))},
    ),
    # Painted by a until 108, cured at 144. x holds the crane for 66, until 162 at the earliest; 30 with b then end at 192, and
    # b leaves at 186. Before x: 144 + 30 + 66 = 240. Without the cure: 108 to 138, then x until 204. Without b's leaving: 192.
    "crane, hours and cure": (
        Problem(
            (
                Task("paint", 12, eligible=BY_A), Task("x", 66, tools=CRANE, eligible=frozenset({"c"})),
                Task("mount", 30, tools=CRANE, eligible=frozenset({"b"}), after=(After("paint", 36),)),
            ),
            (A, Person("b", (Span(96, 186),)), C), (SAT,), tools={"crane": 1},
        ),
        {Cause("tool", ("crane",)), Cause("hours", ("b", "96")), Cause("cure", ("paint", "mount")), X},
    ),
}  # fmt: skip


def plan_without(problem: Problem, reason: Reason, cause: Cause) -> Schedule:
    """A plan of everything that was asked for when one cause is not there, all others being as they are."""
    [asked] = [one for one in to_find_out(problem, list_schedule(problem)) if one.task == reason.task]
    causes = Causes(asked.problem, asked.demand)
    less = causes.only(frozenset(causes.every) - {cause})
    found = proof.is_there_a_plan(less, never).plan
    assert found is not None, cause
    assert check(less, found) == []
    assert found.unplaced == ()
    ends = ends_of(found)
    assert all(ends[task] <= (gate.wanted or 0) for gate in less.gates for task in gate.tasks)
    return found


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_fault_is_named_exactly(name: str) -> None:
    """R21: what is said is hours that the planner may read, tools, parts. Leave any one cause out, all else as it is, and
    the checker proves a plan: the set is minimal."""
    problem, planted = PLANTED[name]
    [reason] = reasons(problem)

    assert reason.code == "held"
    assert set(reason.causes) == planted
    assert reason.about["least"] == 1
    for cause in reason.causes:
        plan_without(problem, reason, cause)


def test_what_the_simple_method_misses_is_a_plan_and_no_reason() -> None:
    """By hand: 4 slots that anybody may do and 4 that only x can, a day of 7, y comes at 3. The simple method gives the first
    to x, who is there; the plan is y from 3 to 7 and x with the other."""
    x, y = Person("x", (Span(0, 7),), frozenset({"k"})), Person("y", (Span(3, 7),))
    problem = Problem((Task("any", 4), Task("only", 4, needs=(Need("k"),))), (x, y), (Span(0, 7),))
    start = list_schedule(problem)
    found = find_out(problem, start, never)

    assert start.unplaced == ("only",)
    assert found.reasons == ()
    assert found.better is not None
    assert found.better.unplaced == ()
    assert check(problem, found.better) == []


@st.composite
def tight(draw: st.DrawFn) -> Problem:
    """Up to four tasks in one short day: about half of these have a plan."""
    day = Span(0, draw(st.integers(5, 9)))
    people = (
        Person("p0", (day,), frozenset({"k"})),
        Person("p1", (Span(draw(st.integers(0, 3)), day.end),)),
    )
    tasks = []
    for n in range(draw(st.integers(2, 4))):
        after = tuple(
            After(f"t{b}", draw(st.sampled_from((0, 2)))) for b in range(n) if draw(st.integers(0, 3)) == 0
        )
        needs = (Need("k"),) if draw(st.booleans()) else ()
        tools = (Use("w"),) if draw(st.booleans()) else ()
        tasks.append(Task(f"t{n}", draw(st.integers(1, 4)), needs=needs, after=after, tools=tools))
    return Problem(tuple(tasks), people, (day,), tools={"w": 1})


@settings(max_examples=25, deadline=None)
@given(tight())
def test_a_reason_is_given_just_where_no_order_makes_a_plan(problem: Problem) -> None:
    """Against trying every start and person of every task: with a plan no reason; with a reason, none for all that was
    asked, and one as soon as any of its causes is away."""
    start = list_schedule(problem)
    found = find_out(problem, start, never)
    if brute(problem) < NONE:
        assert found.reasons == ()
        assert not start.unplaced or (found.better is not None and not found.better.unplaced)
    elif start.unplaced:
        assert {reason.code for reason in found.reasons} <= {"held"}
    for reason in found.reasons:
        assert reason.about["least"] == 1
        causes = Causes(problem, Demand(frozenset({reason.task})))
        kept = frozenset(reason.causes)
        assert brute(causes.only(kept)) == NONE
        for cause in kept:
            assert brute(causes.only(kept - {cause})) < NONE


def test_without_time_it_says_that_it_was_not_found_out() -> None:
    problem, _ = PLANTED["tool"]
    found = find_out(problem, list_schedule(problem), lambda: True)

    assert [(reason.code, reason.causes, reason.remedies) for reason in found.reasons] == [
        ("not_found_out", (), ())
    ]


def test_one_no_of_the_solver_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    """It says no wrongly, once or with one of its models: nothing is called impossible."""
    problem, _ = PLANTED["tool"]
    real = proof.any_plan
    monkeypatch.setattr(
        proof,
        "any_plan",
        lambda model, seconds, limits, presolve, stop: (
            ("INFEASIBLE", None) if presolve else ("UNKNOWN", None)
        ),
    )
    assert {reason.code for reason in reasons(problem)} == {"not_found_out"}
    monkeypatch.setattr(proof, "any_plan", real)
    assert {reason.code for reason in reasons(problem)} == {"held"}


def test_work_that_may_be_stopped_is_not_judged_by_one_way_of_cutting_it() -> None:
    """20 in stretches of at least 8, in days of 10: 10 and 10 hold it, though the simple method cuts 8 and 12."""
    days = (Span(0, 10), Span(20, 30))
    problem = Problem(
        (Task("t", 20, part=8), Task("u", 1, eligible=frozenset({"b"}))),
        (Person("a", days), Person("b", days)),
        days,
    )
    start = list_schedule(problem)

    assert start.unplaced == ("t",)
    assert {reason.code for reason in find_out(problem, start, never).reasons} <= {"not_found_out"}


def test_loosened_work_is_never_more_than_any_cutting_holds() -> None:
    """Every way to cut 1 to 16 slots into stretches of at least p, against the whole pieces of p that they hold."""

    def cuts(total: int, least: int) -> Iterator[tuple[int, ...]]:
        yield from [(total,)] if total >= least else []
        for first in range(least, total - least + 1):
            yield from ((first, *rest) for rest in cuts(total - first, least))

    for part in (1, 2, 3, 4):
        for total in range(part, 17):
            [loose] = proof.loosened(Problem((Task("t", total, part=part),))).tasks
            assert loose.duration == part * min(sum(one // part for one in cut) for cut in cuts(total, part))


def test_ways_out_were_tried_and_leave_what_keeps_people_safe() -> None:
    """R13, R27: nobody is told to check their own work or to jack a car up over somebody."""
    for name, (problem, _) in PLANTED.items():
        [reason] = reasons(problem)
        assert all(remedy.tried for remedy in reason.remedies)
        codes = {remedy.code for remedy in reason.remedies}
        assert codes, name
        assert codes <= {"capacity", "person", "hours", "stays", "part", "appointment", "gate", "horizon"}
        assert not any(r.code == "capacity" and r.about["what"] == "pit" for r in reason.remedies)


def test_a_planted_fault_in_a_large_crew_is_found_among_all_its_work() -> None:
    """Three jobs of 40 on the only lathe, all of whose parts come on the last day of 108: any two fit, three are 120."""
    problem = crew_problem(200, 1)
    day = problem.days[-1]
    lathe = {
        name: Task(name, 40, tools=(Use("lathe"),), release=day.start, waits_for=part)
        for name, part in (("t197", "A"), ("t198", "B"), ("t199", "C"))
    }
    problem = replace(
        problem, tools={**problem.tools, "lathe": 1}, tasks=tuple(lathe.get(t.id, t) for t in problem.tasks)
    )
    [reason] = reasons(problem)

    assert reason.about["least"] == 1
    assert set(reason.causes) == {
        Cause("tool", ("lathe",)),
        *(Cause("part", (part,)) for part in "ABC"),
        *(Cause("work", (name,)) for name in lathe if name != reason.task),
    }


NONE = 10**9


def brute(problem: Problem) -> int:
    """The least finish over every start and person, slot by slot; NONE: no plan. Tasks of `tight` only."""
    least = NONE

    def place(n: int, done: dict[str, tuple[int, int, str]]) -> None:
        nonlocal least
        if n == len(problem.tasks):
            least = min(least, max(end for _, end, _ in done.values()))
            return
        task = problem.tasks[n]
        for person in problem.people:
            if not all(need.skill in person.skills for need in task.needs):
                continue
            for span in person.hours:
                for start in range(span.start, span.end - task.duration + 1):
                    end = start + task.duration
                    if any(start < done[a.task][1] + a.lag for a in task.after):
                        continue
                    tool = {use.tool for use in task.tools if use.tool in problem.tools}
                    clash = any(
                        start < other_end
                        and other_start < end
                        and (who == person.id or (tool and by_id[other].tools))
                        for other, (other_start, other_end, who) in done.items()
                    )
                    if not clash:
                        place(n + 1, {**done, task.id: (start, end, person.id)})

    by_id = {task.id: task for task in problem.tasks}
    place(0, {})
    return least
