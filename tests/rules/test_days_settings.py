"""What planning counts on, and what a taken plan finds out no longer holds."""

from __future__ import annotations

from typing import Any

import pytest

from rules.test_days import SATURDAY_MS, asked, everybody, of, taken
from rules.world import HOUR, MINUTE, World, group, lift, plan, spec, task, wrench
from yokemate.planfile.model import Step
from yokemate.rules.days_frame import frame_at
from yokemate.rules.frame import Facts
from yokemate.rules.refusals import Refused


@pytest.fixture
def build() -> World:
    """T1 wants somebody with a skill, a part that is not there, and a second one; T2 is a lift."""
    world = World(
        plan(
            task(
                "T1",
                "Fit the seal",
                lead_skill="mechanical",
                minutes=(10, 30, 40),
                must_people=2,
                uses=[{"part": "P1"}],
            ),
            task(
                "T2", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, hazards=["lift"]
            ),
            parts=[{"id": "P1", "name": "Seal", "source": "donor"}],
            lifts=[lift("L1", mass_kg="20")],
        )
    )
    world.facts = Facts(hours=everybody())
    return world


def changed(world: World, **fields: Any) -> None:
    world.do("ines", "build.change", seen=world.state.head, **fields)


def trouble(world: World, who: str = "ines") -> list[tuple[str, str, str | None]]:
    return [(one.kind, one.task, one.part) for one in world.view(who, "days").trouble]


def test_with_a_learner_work_takes_as_much_longer_as_the_crew_says(build: World) -> None:
    """30 minutes are six slots of five; half more is nine. Where no skill is needed nobody learns it."""
    assert of(asked(build), "T1").with_learner is None
    changed(build, learner_percent=150)
    found = asked(build)
    assert (of(found, "T1").duration, of(found, "T1").with_learner) == (6, 9)
    changed(build, name="Quillback Three")
    assert of(asked(build), "T1").with_learner == 9, "another change leaves it"
    build.check_ledger()


def test_how_many_come_is_counted_on_in_the_ranges(build: World) -> None:
    changed(build, comes_percent=80)
    assert {person.comes_percent for person in asked(build).people} == {80}


@pytest.mark.parametrize(
    "wrong",
    [{"learner_percent": 99}, {"learner_percent": 301}, {"comes_percent": 29}, {"comes_percent": 101}],
)
def test_r32_figures_that_planning_cannot_count_on(build: World, wrong: dict[str, int]) -> None:
    with pytest.raises((Refused, ValueError)):
        changed(build, **wrong)


def test_a_part_that_comes_after_its_task_is_said(build: World) -> None:
    """On its own day it may be there in time; the day after it is late; on the shelf it is no matter."""
    taken(build)
    build.do("ines", "part.expect", part="P1", on="2026-05-30")
    assert trouble(build) == []
    build.do("ines", "part.expect", part="P1", on="2026-05-31")
    assert trouble(build) == [("part_late", "T1", "Seal")]
    build.do("bram", "task.take", task="T1")
    build.do("bram", "task.have_part", task="T1", part="P1", have=True)
    assert trouble(build) == []


def test_a_lift_that_was_called_and_not_made_is_said(build: World) -> None:
    """A quarter of an hour is no matter; after that the plan does not quietly find it another time."""
    called_ms = SATURDAY_MS + 6 * HOUR
    block = {
        "task": "T2", "check": False, "from_ms": called_ms, "to_ms": called_ms + HOUR, "team": ["bram", "aled"],
        "joiners": [], "company": [],
    }  # fmt: skip
    taken(build, blocks=[block])
    build.do("ines", "lift.call", lift="L1", when_ms=called_ms)
    build.now_ms = called_ms + 14 * MINUTE
    assert trouble(build) == []
    build.now_ms = called_ms + 16 * MINUTE
    assert trouble(build) == [("lift_over", "T2", None)]


def test_a_lift_that_was_called_for_another_hour_than_the_plan_has_it_is_said(build: World) -> None:
    """So is one that the plan does not have; and somebody of the plan who said no to its hour."""
    called_ms = SATURDAY_MS + 6 * HOUR
    block = {
        "task": "T2", "check": False, "from_ms": called_ms, "to_ms": called_ms + HOUR, "team": ["bram", "aled"],
        "joiners": [], "company": [],
    }  # fmt: skip

    def said() -> list[tuple[str, str | None, int, int | None]]:
        found = build.view("ines", "days").trouble
        return [(one.kind, one.person, one.from_ms, one.planned_ms) for one in found if one.task == "T2"]

    build.facts = Facts(hours=everybody())
    build.do("ines", "lift.call", lift="L1", when_ms=called_ms)
    taken(build)
    assert said() == [("lift_elsewhen", None, called_ms, None)]
    taken(build, blocks=[block])
    assert said() == []
    build.do("bram", "lift.answer", lift="L1", will_come=False)
    assert said() == [("cannot_come", "bram", called_ms, None)]
    build.do("ines", "lift.stand_down", lift="L1", reason="other")
    build.do("ines", "lift.call", lift="L1", when_ms=called_ms + HOUR)
    assert said() == [("lift_elsewhen", None, called_ms + HOUR, called_ms)]


def test_a_called_lift_stands_for_a_quarter_of_an_hour_more(build: World) -> None:
    """People come a little late: a plan made then does not find the lift another time."""
    called_ms = SATURDAY_MS + 6 * HOUR
    build.do("ines", "lift.call", lift="L1", when_ms=called_ms)

    def start_ms() -> int | None:
        fixed = next(one for one in asked(build).tasks if one.id == "T2").fixed
        return None if fixed is None else frame_at(build.state, build.now_ms).ms(fixed.start)

    build.now_ms = called_ms + 9 * MINUTE
    assert start_ms() == called_ms
    build.now_ms = called_ms + 16 * MINUTE
    assert start_ms() is None


def test_r30_planning_is_the_leads_and_no_deputys(build: World) -> None:
    """R30: a deputy invites guests, releases what is stuck, accepts deviations and opens gates; the plan is not among it."""
    build.do("ines", "crew.name_deputy", person="sofia", until_ms=build.now_ms + 8 * HOUR)
    with pytest.raises(Refused) as refused:
        taken(build, "sofia")
    assert refused.value.code == "role"
    build.refused("sofia", "part.expect", "role", part="P1", on="2026-06-10")
    taken(build, "ines")
    build.do("ines", "part.expect", part="P1", on="2026-06-10")
    assert trouble(build, "ines") == [("part_late", "T1", "Seal")]
    assert trouble(build, "sofia") == []


def test_who_left_or_is_a_guest_of_another_day_cannot_come(build: World) -> None:
    """Their hours are still there; they are not."""
    taken(build)

    def gone() -> list[str | None]:
        return [one.person for one in build.view("ines", "days").trouble if one.kind == "cannot_come"]

    assert gone() == []
    build.do("ines", "crew.leave", person="bram")
    assert gone() == ["bram"]


def test_r13_who_was_to_check_it_and_worked_on_it_is_said() -> None:
    """R13: the plan has Sofia check T1; she takes it herself."""
    tighten = Step(id="s1", say="Tighten", kind="tighten", group="G1")
    world = World(
        plan(
            task("T1", tighten), specs=[spec(passes_percent=[100])], groups=[group("G1", 3, critical=True)],
            tools=[wrench("W1")],
        )
    )  # fmt: skip
    world.facts = Facts(hours=everybody())
    block = {
        "task": "T1", "check": True, "from_ms": SATURDAY_MS + 6 * HOUR, "to_ms": SATURDAY_MS + 6 * HOUR + 10 * MINUTE,
        "team": ["sofia"], "joiners": [], "company": [],
    }  # fmt: skip
    taken(world, blocks=[block])
    assert trouble(world) == []
    world.do("sofia", "task.take", task="T1")
    found = world.view("ines", "days").trouble
    assert [(one.kind, one.person, one.check) for one in found] == [("fresh_eyes", "sofia", True)]
