"""Why work has no place, and what is no problem at all, in the crew's words."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import pytest

from rules.test_days import SATURDAY_MS, asked, everybody, of
from rules.world import World, group, plan, spec, task, wrench
from yokemate.planfile.model import Step
from yokemate.planning.problem import After, Problem, Task
from yokemate.planning.reasons import Cause, Fault, Reason
from yokemate.rules.days_causes import cause_words, least_words
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_offer import at_once
from yokemate.rules.days_seconds import COUNTERSIGN
from yokemate.rules.days_words import Words, fault_words
from yokemate.rules.days_wrenches import pool


@pytest.fixture
def build() -> World:
    """T1 takes nine hours in one go, and everybody's Saturday has eight (9:00 to 17:00)."""
    return World(plan(task("T1", "Respray", minutes=(500, 540, 600)), task("T2", "Clear up")))


def test_work_longer_than_any_day_is_said_and_the_rest_planned(build: World) -> None:
    """The whole plan is not refused for one task."""
    _, _, offered = at_once(build.state, everybody(), build.now_ms)

    assert offered.data["unplaced"] == ["T1"]
    assert [block["task"] for block in offered.data["blocks"]] == ["T2"]
    [said] = offered.reasons
    assert said.says == "T1, Task T1 takes 9 h in one go; the longest build day has 8 h."
    assert said.remedies[0] == "T1, Task T1, is done in stretches of 2 h (stretch_minutes in the plan file)."


def test_r11_torque_wrenches_that_are_not_fit_are_not_counted() -> None:
    """R11: of three, one was dropped, and the check of one was past due a year ago. Then the last is dropped too."""
    late = wrench("W2", checked_on="2024-05-01")
    world = World(
        plan(
            task("T1", Step(id="s1", say="Tighten", kind="tighten", group="G1")),
            specs=[spec(passes_percent=[100])],
            groups=[group("G1", 3)],
            tools=[wrench("W1"), late, wrench("W3")],
        )
    )
    world.do("kofi", "wrench.dropped", wrench="W3")
    assert asked(world).tools == {pool(frozenset({"W1"})): 1}

    world.do("kofi", "wrench.dropped", wrench="W1")
    _, _, offered = at_once(world.state, everybody(), world.now_ms)
    [said] = offered.reasons
    assert (
        said.says
        == "T1, Task T1 needs a torque wrench; none with its range is fit, for want of a check or after a drop."
    )
    assert said.remedies[0] == "One torque wrench checked and good."


SEAL = {"id": "P1", "name": "Seal", "source": "donor"}


def test_a_part_without_a_date_holds_its_work_until_there_is_one() -> None:
    """Nobody knows when the seal comes: T1 has no place, T2 has. With a date, or once it is in somebody's hand, it has."""
    world = World(plan(task("T1", "Fit it", uses=[{"part": "P1"}]), task("T2", "Sweep"), parts=[SEAL]))
    _, _, offered = at_once(world.state, everybody(), world.now_ms)
    [said] = offered.reasons

    assert offered.data["unplaced"] == ["T1"]
    assert said.says == "No date for Seal, which T1, Task T1 waits for."
    assert said.remedies == ["Say when Seal should arrive: Bags and tools, Parts and bags."]
    world.do("ines", "part.expect", part="P1", on="2026-05-29")
    assert at_once(world.state, everybody(), world.now_ms)[2].data["unplaced"] == []
    world.do("ines", "part.expect", part="P1")
    world.do("kofi", "task.have_part", task="T1", part="P1", have=True)
    assert at_once(world.state, everybody(), world.now_ms)[2].data["unplaced"] == []


def test_a_part_that_other_work_gives_comes_with_it() -> None:
    """T2 takes the seal off the donor: T1 is planned after it, though the plan file does not say so. When T2 is done, the seal
    is there; until somebody looks for it in vain: then nobody knows."""
    world = World(
        plan(task("T1", "Fit it", uses=[{"part": "P1"}]), task("T2", "Strip it", gives=["P1"]), parts=[SEAL])
    )
    found = asked(world)
    assert [after.task for after in of(found, "T1").after] == ["T2"]
    assert of(found, "T1").undated == ()
    world.do("bram", "task.take", task="T2")
    world.do("bram", "task.tick", task="T2", steps=["s1"])
    world.do("bram", "task.sign_off", task="T2")
    assert (of(asked(world), "T1").after, of(asked(world), "T1").undated) == ((), ())
    world.do("kofi", "task.have_part", task="T1", part="P1", have=False)
    assert of(asked(world), "T1").undated == ("P1",)


FAULTS = [
    (Fault("circle", {"tasks": ("T1", "T2")}), "T1, Task T1 and T2, Task T2 wait for each other"),
    (Fault("twice", {"kind": "task", "what": "T1"}), "T1, Task T1 is there twice"),
    (
        Fault("unknown", {"kind": "tool", "what": "K9", "where": "T1"}),
        "T1, Task T1 names K9, which is not there",
    ),
    (
        Fault("impossible_count", {"what": "T2", "kind": "people", "count": -1}),
        "T2, Task T2 has -1 as its number of people, which can't be",
    ),
    (
        Fault("too_many", {"what": "people", "count": 61, "most": 60}),
        "61 people are more than the 60 that can be planned",
    ),
]


@pytest.mark.parametrize(
    ("fault", "said"), FAULTS, ids=lambda one: one.code if isinstance(one, Fault) else ""
)
def test_r32_what_is_no_problem_is_said_with_a_remedy(build: World, fault: Fault, said: str) -> None:
    """R32: no code, no bare id."""
    names = Words(build.state, frame_at(build.state, build.now_ms), ZoneInfo("UTC"))

    assert fault_words(fault, names)[0] == said
    assert fault_words(fault, names)[1].endswith(".")


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("overlap", "overlap"),
        ("empty_span", "end before they begin"),
        ("outside_days", "lie outside the build days"),
    ],
)
def test_r21_hours_that_cannot_be_are_said_without_whose(build: World, code: str, said: str) -> None:
    """R21: the answer may be read over somebody's shoulder; the lead finds whose under Crew."""
    at = frame_at(build.state, build.now_ms)
    start = at.slot(SATURDAY_MS)
    fault = Fault(code, {"person": "bram", "start": start, "end": start + 1})
    words, remedy = fault_words(fault, Words(build.state, at, ZoneInfo("UTC")))

    assert words == f"Hours of one of the crew on Saturday 30 May {said}"
    assert "Hours" in remedy


WORDS = [
    (Cause("work", ("T4",)), "T4, Task T4, which has a place"),
    (Cause("appointment", ("T3",)), "T3, Task T3, which stands at its time"),
    (Cause("gate", ("G9",)), "the date that is wanted for G9"),
    (Cause("hours", ("bram",)), "when {n0_person} can come"),
    (Cause("part", ("P1",)), "P1, expected Saturday 30 May"),
    (Cause("cure", ("", "T4")), "what must still pass before T4, Task T4"),
    (
        Cause("cure", ("T1/check", "T4")),
        "1 h 30 min that must pass between the check of T1, Task T1 and T4, Task T4",
    ),
    (Cause("tool", ("torque_wrench",)), "torque wrench, of which there are 2"),
    (Cause("zone", ("frame",)), "Frame bay, which holds 2"),
    (Cause("skill", (COUNTERSIGN,)), "that not everybody may countersign"),
    (Cause("hazard", ("jacking", "under_car")), "jacking and under car, never side by side"),
    (Cause("independence", ("T1/check",)), "the check of T1, Task T1, by somebody who did not do the work"),
    (Cause("company", ("T2",)), "T2, Task T2, never done alone"),
    (Cause("tired", ("T1",)), "T1, Task T1, which is critical and not for a day's end"),
]


@pytest.mark.parametrize(
    ("cause", "words"), WORDS, ids=lambda one: one.kind if isinstance(one, Cause) else ""
)
def test_each_kind_of_cause_has_words(cause: Cause, words: str) -> None:
    """And as a whole: what many of a kind are called together."""
    world = World(plan(*(task(f"T{n}") for n in range(1, 5))))
    at = frame_at(world.state, world.now_ms)
    waiting = Task("T4", 6, after=(After("T1/check", lag=18),), release=at.slot(SATURDAY_MS), waits_for="P1")
    asked = Problem((waiting,), tools={"torque_wrench": 2}, zones={"frame": 2})
    names = Words(world.state, at, ZoneInfo("UTC"))

    assert cause_words(cause, asked, names) == words
    assert cause.kind == "gate" or cause_words(Cause(cause.kind), asked, names)


HOURS, WORK, TOOL = Cause("hours", ("bram",)), Cause("work", ("T2",)), Cause("tool", ("K1",))
ANY_ONE = "With any one of them away, the others would leave a plan."


@pytest.mark.parametrize(
    ("proof", "causes", "note"),
    [
        ("counts", (HOURS, WORK), ANY_ONE),
        (
            "solver",
            (HOURS, WORK),
            f"Added up, the hours are enough; piece by piece, each in one go, the work does not fit into them. {ANY_ONE}",
        ),
        ("solver", (HOURS, WORK, TOOL), ANY_ONE),
    ],
)
def test_more_work_than_hours_that_counting_does_not_show_is_said(
    proof: str, causes: tuple[Cause, ...], note: str
) -> None:
    """By counting it was shown: then the figures stand in the sentence before. By the solver: the sum alone would fit."""
    assert least_words(Reason("held", "T1", {"proof": proof, "least": 1}, causes=causes)) == note
