"""What carries the finish: read off plans small enough to be done by hand."""

from __future__ import annotations

from yokemate.planning.chain import chain_of
from yokemate.planning.problem import After, Problem, Schedule, Stint, Task, Use


def stint(task: str, start: int, end: int, *team: str) -> Stint:
    return Stint(task, start, end, team)


def test_the_chain_goes_back_by_what_comes_before_and_leaves_out_what_has_slack() -> None:
    """A (0 to 4) then C (4 to 9) end last; B (0 to 2) could begin two slots later."""
    problem = Problem(tasks=(Task("A", 4), Task("B", 2), Task("C", 5, after=(After("A"), After("B")))))
    schedule = Schedule((stint("A", 0, 4, "x"), stint("B", 0, 2, "y"), stint("C", 4, 9, "z")))
    assert chain_of(problem, schedule) == ["A", "C"]


def test_a_lag_counts_as_waiting() -> None:
    """B ends at 3, but A's cure of 6 slots after its end at 2 is what C waits for."""
    problem = Problem(tasks=(Task("A", 2), Task("B", 3), Task("C", 1, after=(After("A", lag=6), After("B")))))
    schedule = Schedule((stint("A", 0, 2, "x"), stint("B", 0, 3, "y"), stint("C", 8, 9, "z")))
    assert chain_of(problem, schedule) == ["A", "C"]


def test_somebodys_work_before_and_a_tool_of_which_there_is_one() -> None:
    """x does A then B; D waits for the only crane that B holds."""
    tasks = (Task("A", 3), Task("B", 2, tools=(Use("crane"),)), Task("D", 4, tools=(Use("crane"),)))
    schedule = Schedule((stint("A", 0, 3, "x"), stint("B", 3, 5, "x"), stint("D", 5, 9, "y")))
    assert chain_of(Problem(tasks=tasks, tools={"crane": 1}), schedule) == ["A", "B", "D"]


def test_a_tool_of_which_there_are_enough_holds_nobody_up() -> None:
    tasks = (Task("B", 5, tools=(Use("torque_wrench"),)), Task("D", 4, tools=(Use("torque_wrench"),)))
    schedule = Schedule((stint("B", 0, 5, "x"), stint("D", 5, 9, "y")))
    assert chain_of(Problem(tasks=tasks, tools={"torque_wrench": 2}), schedule) == ["D"]


def test_nothing_planned_has_no_chain() -> None:
    assert chain_of(Problem(tasks=(Task("A", 1),)), Schedule((), ("A",))) == []
