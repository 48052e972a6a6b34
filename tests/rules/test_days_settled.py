"""What the plan goes round: work in hand stays with who has it, with as many people as it wants."""

from __future__ import annotations

import pytest

from rules.test_days import SATURDAY_MS, SATURDAYS, asked, everybody, of, offer, taken
from rules.world import HOUR, World, plan, task
from yokemate.planning.check import check
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Problem, Stint
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_offer import at_once
from yokemate.rules.hours import Hours

NINE_MS = SATURDAY_MS + 5 * HOUR
SUNDAYS = Hours.model_validate({"weekly": [{"weekday": 6, "begins": "09:00", "ends": "17:00"}]})


@pytest.fixture
def begun() -> World:
    """Saturday, nine o'clock: Bram is in and has T1, which wants two people for an hour; and T2, which wants one."""
    world = World(
        plan(
            task("T1", "Hold and bolt", minutes=(60, 60, 60), must_people=2),
            task("T2", "Wire", minutes=(60, 60, 60)),
        )
    )
    world.now_ms = NINE_MS
    world.do("bram", "crew.sign_in")
    world.do("bram", "task.take", task="T1")
    return world


def place(found: Problem, id: str) -> Stint:
    schedule = list_schedule(found)
    assert check(found, schedule) == []
    return next(s for s in schedule.stints if s.task == id)


def test_r7_work_in_hand_with_too_few_is_planned_with_all_it_wants(begun: World) -> None:
    """R7: must-have people. Bram alone had it: somebody comes to him, at once."""
    found = asked(begun)
    stint = place(found, "T1")

    assert of(found, "T1").holders == {"bram"}
    assert len(stint.team) == 2
    assert "bram" in stint.team
    assert stint.start == found.now


def test_who_was_to_come_to_it_is_kept_until_its_time_is_over(begun: World) -> None:
    """The plan has Bram and Priya at T1 from nine to ten; Priya has not said yet that she is at it."""
    block = {**offer(begun)["blocks"][0], "team": ["bram", "priya"]}
    taken(begun, blocks=[block])
    begun.later(minutes=7)
    fixed = of(asked(begun), "T1").fixed

    assert fixed is not None
    assert fixed.team == ("bram", "priya")
    assert frame_at(begun.state, begun.now_ms).ms(fixed.start) == NINE_MS


def test_work_of_one_who_is_not_in_today_is_given_to_nobody_else(begun: World) -> None:
    """Bram went home with T1 and T2 in hand; he comes on Sundays, the others on both days."""
    begun.do("bram", "task.take", task="T2")
    begun.do("bram", "crew.sign_out")
    both = Hours(weekly=[*SATURDAYS.weekly, *SUNDAYS.weekly])
    found = asked(begun, {**everybody(both), "bram": SUNDAYS})
    at = frame_at(begun.state, begun.now_ms)

    assert place(found, "T2").team == ("bram",)
    assert at.ms(place(found, "T2").start) == NINE_MS + 25 * HOUR  # after T1


def test_two_people_work_waits_for_the_one_who_has_it(begun: World) -> None:
    """T1 wants two, Bram has it alone and comes on Sunday: it is planned on Sunday, with him and one more."""
    begun.do("bram", "crew.sign_out")
    both = Hours(weekly=[*SATURDAYS.weekly, *SUNDAYS.weekly])
    stint = place(asked(begun, {**everybody(both), "bram": SUNDAYS}), "T1")

    assert frame_at(begun.state, begun.now_ms).ms(stint.start) == NINE_MS + 24 * HOUR
    assert "bram" in stint.team


def test_work_of_one_who_gave_no_hours_is_said(begun: World) -> None:
    begun.do("bram", "crew.sign_out")
    _, _, offered = at_once(begun.state, {**everybody(), "bram": Hours()}, begun.now_ms)
    said = next(one for one in offered.reasons if one.task == "T1")

    assert (
        said.says == "T1, Task T1 is in the hands of {n0_person}, who never has 1 h for it with all it needs."
    )
    assert said.params == {"n0_person": "bram"}
    assert said.remedies == ["T1, Task T1, is passed on or given back."]
