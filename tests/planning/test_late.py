"""What holds a gate: a chain with a late part, or people who are busy. By hand."""

from planning.crews import crew_problem
from yokemate.planning.late import late_gates
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import After, Gate, Person, Problem, Span, Task

DAYS = (Span(96, 204), Span(384, 492), Span(672, 780))


def test_a_late_part_and_the_chain_behind_it() -> None:
    """The pump comes at 384; an hour and then two: reached at 420, wanted at 400. More people would not help."""
    tasks = (
        Task("fit", 12, release=384, waits_for="pump"),
        Task("fill", 24, after=(After("fit"),)),
        Task("other", 60),
    )
    people = tuple(Person(n, DAYS) for n in "abcd")
    problem = Problem(tasks, people, DAYS, gates=(Gate("start", frozenset({"fill", "other"}), wanted=400),))
    [reason] = late_gates(problem, list_schedule(problem))

    assert reason.about == {
        "gate": "start",
        "slots": 20,
        "chain": ("fit", "fill"),
        "part": "pump",
        "cause": "chain",
    }
    assert [r.code for r in reason.remedies] == ["part"]


def test_one_pair_of_hands_is_busy() -> None:
    """Two tasks of 60 for one person: the second ends the second day, alone each would be in time."""
    problem = Problem(
        (Task("x", 60), Task("y", 60)),
        (Person("a", DAYS),),
        DAYS,
        gates=(Gate("g", frozenset({"x", "y"}), wanted=204),),
    )
    [reason] = late_gates(problem, list_schedule(problem))

    assert (reason.about["cause"], reason.about["slots"]) == ("busy", 384 + 60 - 204)


def test_what_is_in_time_has_no_reason() -> None:
    problem = crew_problem(40, 1)

    assert late_gates(problem, list_schedule(problem)) == []
