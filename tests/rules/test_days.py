"""From rows and hours to a problem of planning, and what is seen of a taken plan (R2, R5, R13, R21, R27, R28)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from unittest import mock

import pytest

from rules.world import HOUR, MINUTE, START_MS, World, group, lift, plan, spec, task, wrench
from yokemate.planfile.model import After, Lag, Step, ToolPlan
from yokemate.planning import problem as planning
from yokemate.planning.check import check
from yokemate.planning.find_out import find_out
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Problem, Task, Windows
from yokemate.planning.windows import windows_for
from yokemate.rules.days_blocks import blocks_of
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_offer import at_once, reasons, times
from yokemate.rules.days_pieces import CHECK
from yokemate.rules.days_problem import problem
from yokemate.rules.days_seconds import COUNTERSIGN
from yokemate.rules.frame import Facts
from yokemate.rules.hours import Hours
from yokemate.rules.rows import DaysPlan

# START_MS is Thursday 28 May 2026, 20:26:40 UTC; the world's build keeps UTC.
SATURDAY_MS = 1_780_113_600_000  # Saturday 30 May 2026, 4:00 UTC
SATURDAYS = Hours.model_validate({"weekly": [{"weekday": 5, "begins": "09:00", "ends": "17:00"}]})
PEOPLE = ("ines", "bram", "sofia", "aled", "priya", "kofi")


def everybody(hours: Hours = SATURDAYS) -> dict[str, Hours]:
    return dict.fromkeys(PEOPLE, hours)


@pytest.fixture
def days() -> World:
    return World(
        plan(
            task("T1", Step(id="s1", say="Tighten", kind="tighten", group="G1"), lead_skill="mechanical"),
            task("T2", "Under the car", after=["T1"], hazards=["under_car"]),
            task(
                "T3", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, hazards=["lift"]
            ),
            task("T4", "Paint", after=["T3"]),
            specs=[spec(passes_percent=[100])],
            groups=[group("G1", 3, critical=True)],
            tools=[wrench("W1")],
            lifts=[lift("L1", mass_kg="20")],
        )
    )


def asked(world: World, hours: dict[str, Hours] | None = None) -> Problem:
    return problem(world.state, everybody() if hours is None else hours, world.now_ms)


def of(found: Problem, id: str) -> Task:
    return next(one for one in found.tasks if one.id == id)


def test_r13_a_critical_group_brings_a_check_by_somebody_independent(days: World) -> None:
    """R13: a small task of its own, for somebody who may countersign and is not of the team; followers wait for it."""
    found = asked(days)

    signed = of(found, "T1" + CHECK)
    assert signed.independent_of == ("T1",)
    assert signed.needs[0].skill == COUNTERSIGN
    assert signed.eligible is not None
    assert "kofi" not in signed.eligible
    assert {after.task for after in of(found, "T2").after} == {"T1", "T1" + CHECK}
    assert of(found, "T1").not_last


def test_r28_lifts_and_work_under_the_car_are_never_alone(days: World) -> None:
    """R28: two in the garage; a lift needs its lifters, guides and a caller together."""
    found = asked(days)

    assert of(found, "T2").present == 2
    assert of(found, "T3").people >= 3
    assert of(found, "T3").lift


def test_r27_nobody_is_planned_under_the_car_while_a_load_is_up(days: World) -> None:
    """As the live rule has it (R18, R27); the plan names no such hazard."""
    found = asked(days)

    pairs = {frozenset((a, b)) for a in of(found, "T2").hazards for b in of(found, "T3").hazards}
    assert pairs & found.never_beside


def test_r28_a_check_is_planned_where_its_work_was_done() -> None:
    """R27, R28: whoever signs under the car is not alone there and has nothing beside them; the grinder is over by then."""
    under = Step(id="s1", say="Tighten", kind="tighten", group="G1")
    world = World(
        plan(
            task("T1", under, hazards=["under_car", "sparks"]), specs=[spec(passes_percent=[100])],
            groups=[group("G1", 3, critical=True)], tools=[wrench("W1")],
        )
    )  # fmt: skip
    signed = of(asked(world), "T1" + CHECK)
    assert (signed.hazards, signed.present) == (frozenset({"under_car"}), 2)


HOLD = Step(id="h", say="Diagonals looked at", kind="hold")


@pytest.fixture
def held() -> World:
    """T1: an hour, half of it before a hold step and half behind; T2 follows."""
    return World(
        plan(
            task("T1", "Set it up", HOLD, "Weld it", minutes=(60, 60, 60)), task("T2", "Paint", after=["T1"])
        )
    )


def test_r5_work_stops_at_a_hold_step_until_somebody_who_is_not_at_it_has_signed(held: World) -> None:
    """R5: half an hour, ten minutes of somebody who may countersign, soon; then the other half, and what follows."""
    found = asked(held)
    first, signed, rest = (of(found, id) for id in ("T1/piece/h", "T1/check/h", "T1"))

    assert [one.duration for one in (first, signed, rest)] == [6, 2, 6]
    assert (signed.independent_of, signed.needs[0].skill) == (("T1/piece/h", "T1"), COUNTERSIGN)
    assert [one.after for one in (first, signed, rest)] == [
        (), (planning.After("T1/piece/h", soon=6),), (planning.After("T1/check/h"),),
    ]  # fmt: skip
    assert [after.task for after in of(found, "T2").after] == ["T1"]

    _, schedule, offered = at_once(held.state, everybody(), held.now_ms)
    at = {stint.task: stint for stint in schedule.stints}
    assert at["T1/piece/h"].end <= at["T1/check/h"].start
    assert at["T1/check/h"].end <= at["T1"].start
    assert at["T1"].team == at["T1/piece/h"].team, "who was stopped goes on"
    assert not set(at["T1/check/h"].team) & set(at["T1"].team)
    assert [(b["task"], b["check"], b.get("step")) for b in offered.data["blocks"]] == [
        ("T1", False, "h"), ("T1", True, "h"), ("T1", False, None), ("T2", False, None),
    ]  # fmt: skip


def test_r5_what_stands_at_a_hold_step_is_signed_first_and_goes_on_with_who_has_it(held: World) -> None:
    held.do("aled", "task.take", task="T1")
    held.do("aled", "task.tick", task="T1", steps=["s1"])
    found = asked(held)

    assert [one.id for one in found.tasks] == ["T1/check/h", "T1", "T2"]
    assert of(found, "T1/check/h").after == ()
    assert of(found, "T1/check/h").eligible == {"bram", "ines", "sofia"}
    assert (of(found, "T1").fixed, of(found, "T1").eligible) == (None, {"aled"})

    held.do("sofia", "task.sign_hold", task="T1", step="h")
    assert [one.id for one in asked(held).tasks] == ["T1", "T2"]
    assert of(asked(held), "T1").fixed is not None, "it goes on now"


def test_r5_a_plan_with_a_hold_step_is_taken_seen_and_grown_old_piece_by_piece(held: World) -> None:
    """R2, R5: the pieces stand in the entry; what was done and signed since is seen as done, and is no longer planned."""
    _, _, offered = at_once(held.state, everybody(), held.now_ms)
    facts = Facts(offer=offered.data, hours=everybody())
    held.do("ines", "days.take", offer="o1", facts=facts)
    assert asked(held).last == list_schedule(replace(asked(held), last=None))

    def states() -> list[tuple[str, bool, str | None, str]]:
        [day] = held.view("ines", "days").days
        blocks = {(b.from_ms, b.task, b.check, b.hold): b.state for p in day.persons for b in p.blocks}
        return [(task, check, hold, state) for (_, task, check, hold), state in sorted(blocks.items())]

    say = "Diagonals looked at"
    assert states() == [
        ("T1", False, say, "planned"), ("T1", True, say, "planned"), ("T1", False, None, "planned"),
        ("T2", False, None, "planned"),
    ]  # fmt: skip
    held.do("aled", "task.take", task="T1")
    held.do("aled", "task.tick", task="T1", steps=["s1"])
    assert [state for *_, state in states()] == ["done", "planned", "taken", "planned"]
    held.do("sofia", "task.sign_hold", task="T1", step="h")
    assert [state for *_, state in states()] == ["done", "done", "taken", "planned"]
    held.do("ines", "days.take", offer="o1", facts=facts)
    assert [(b.task, b.step) for b in held.get(DaysPlan, "days").blocks] == [("T1", None), ("T2", None)]
    held.check_ledger()


def test_r5_a_hold_step_at_the_end_leaves_the_sign_off_behind_it() -> None:
    """R5, R9: what is signed off has its hold step signed; a lift stays in one piece, and who signs comes when it is down."""
    world = World(
        plan(
            task("T1", "Weld it", HOLD, minutes=(60, 60, 60)),
            task("T2", HOLD, Step(id="s", say="Lift it on", kind="lift"), lift="L1", hazards=["lift"]),
            lifts=[lift("L1", mass_kg="20")],
        )
    )
    found = asked(world)

    assert [(one.id, one.duration) for one in found.tasks if one.id.startswith("T1")] == [
        ("T1/piece/h", 12), ("T1/check/h", 2), ("T1", 1),
    ]  # fmt: skip
    assert [one.id for one in found.tasks if one.id.startswith("T2")] == ["T2", "T2" + CHECK]
    assert of(found, "T2" + CHECK).after[0].task == "T2"


def test_r13_who_touched_the_group_in_another_task_signs_for_none_of_it() -> None:
    """R13: T1 runs it in, T2 tightens it: neither team looks; nor does Aled, who ran it in before."""
    runs_in = Step(id="s1", say="Run in", kind="run_in", group="G1")
    final = Step(id="s1", say="Tighten", kind="tighten", group="G1")
    world = World(
        plan(
            task("T1", runs_in), task("T2", final, after=["T1"]), specs=[spec(passes_percent=[100])],
            groups=[group("G1", 3, critical=True)], tools=[wrench("W1")],
        )
    )  # fmt: skip
    assert of(asked(world), "T2" + CHECK).independent_of == ("T1", "T2")
    world.do("aled", "task.take", task="T1")
    world.do("aled", "torque.run_in", group="G1", task="T1", how="run_in", bolts=[1, 2, 3])
    world.do("aled", "task.sign_off", task="T1")
    signed = of(asked(world), "T2" + CHECK)
    assert signed.independent_of == ("T2",)
    assert signed.eligible == {"bram", "ines", "sofia"}


def test_what_is_done_is_left_out_and_what_is_taken_stays_with_its_people(days: World) -> None:
    days.do("bram", "task.take", task="T1")
    found = asked(days)

    fixed = of(found, "T1").fixed
    assert fixed is not None
    assert fixed.team == ("bram",)


def test_a_called_lift_stands_where_it_was_called(days: World) -> None:
    days.do("ines", "lift.call", lift="L1", when_ms=START_MS + 40 * HOUR)
    days.do("bram", "lift.answer", lift="L1", will_come=True)
    found = asked(days)

    fixed = of(found, "T3").fixed
    assert fixed is not None
    at = frame_at(days.state, days.now_ms)
    assert 0 <= at.ms(fixed.start) - (START_MS + 40 * HOUR) < 5 * MINUTE
    assert fixed.team == ("bram",)
    assert fixed.asked == ("aled", "ines", "priya", "sofia")  # Kofi is a minor, Vera looks on


def test_who_was_asked_to_a_lift_is_planned_elsewhere_only_when_it_has_enough(days: World) -> None:
    """Two places and a caller; no plan was taken. As long as they are fewer than three, whoever has not answered may be
    one of them: T4, which anybody could do for two hours, waits until the lift is over.
    """
    days = World(
        plan(
            task("T3", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, minutes=(30, 30, 30)),
            task("T4", "Paint", minutes=(120, 120, 120)),
            lifts=[lift("L1", mass_kg="20")],
        )
    )  # fmt: skip
    ten_ms = SATURDAY_MS + 6 * HOUR
    days.do("ines", "lift.call", lift="L1", when_ms=ten_ms)

    def paint() -> int:
        found = asked(days)
        schedule = list_schedule(found)
        assert check(found, schedule) == []
        stint = next(s for s in schedule.stints if s.task == "T4")
        return frame_at(days.state, days.now_ms).ms(stint.start)

    assert paint() == ten_ms + HOUR // 2
    for person in ("bram", "aled"):
        days.do(person, "lift.answer", lift="L1", will_come=True)
    days.do("sofia", "lift.answer", lift="L1", will_come=False)
    assert paint() == ten_ms - HOUR  # by Sofia, who can't come to it
    days.do("sofia", "lift.answer", lift="L1", will_come=True)
    found = asked(days)
    assert of(found, "T3").fixed is not None
    assert of(found, "T3").fixed.asked == ()  # type: ignore[union-attr]


def test_who_comes_to_a_lift_of_no_task_is_at_no_other_work_then(days: World) -> None:
    """It stands in no plan. Saturday is 9:00 to 17:00; the lift at 11:00 takes three quarters of an hour (common practice)."""
    days = World(plan(task("T1", "Paint"), lifts=[lift("L1", mass_kg="20")]))
    days.do("ines", "lift.call", lift="L1", when_ms=SATURDAY_MS + 7 * HOUR)
    for person in ("bram", "aled", "priya"):
        days.do(person, "lift.answer", lift="L1", will_come=True)
    found = asked(days)
    at = frame_at(days.state, days.now_ms)

    def first_day(person: str) -> list[tuple[int, int]]:
        hours = next(one for one in found.people if one.id == person).hours
        return [
            ((at.ms(s.start) - SATURDAY_MS) // MINUTE + 240, (at.ms(s.end) - SATURDAY_MS) // MINUTE + 240)
            for s in hours
            if at.ms(s.start) < SATURDAY_MS + 24 * HOUR
        ]

    assert first_day("bram") == [(540, 660), (705, 1020)]
    assert first_day("sofia") == [(540, 1020)]


def test_whom_the_plan_has_in_a_called_lift_is_kept_free_until_they_answer(days: World) -> None:
    """Called for when the plan has it, nobody has answered: its people are not planned elsewhere. Who declines is."""
    _, _, first = at_once(days.state, everybody(), days.now_ms)
    days.do("ines", "days.take", offer="o1", facts=Facts(offer=first.data, hours=everybody()))
    block = next(one for one in days.get(DaysPlan, "days").blocks if one.task == "T3")
    days.do("ines", "lift.call", lift="L1", when_ms=block.from_ms)
    fixed = of(asked(days), "T3").fixed
    assert fixed is not None
    assert set(fixed.team) == set(block.team)
    assert fixed.asked == ()
    out = block.team[0]
    days.do(out, "lift.answer", lift="L1", will_come=False)
    fixed = of(asked(days), "T3").fixed
    assert fixed is not None
    assert out not in (*fixed.team, *fixed.asked)


def test_a_plan_that_has_a_lift_at_another_hour_than_it_was_called_for_is_not_taken(days: World) -> None:
    """Worked out before the lift was called; who comes to it is no reason, its hour is."""
    _, _, first = at_once(days.state, everybody(), days.now_ms)
    when_ms = next(one["from_ms"] for one in first.data["blocks"] if one["task"] == "T3")
    facts = Facts(offer=first.data, hours=everybody())
    days.do("ines", "lift.call", lift="L1", when_ms=when_ms + HOUR)
    refused = days.refused("ines", "days.take", "offer_stale", offer="o1", facts=facts)
    assert "T3" in refused.params["what"]
    days.do("ines", "lift.stand_down", lift="L1", reason="other")
    days.do("ines", "lift.call", lift="L1", when_ms=when_ms)
    days.do("ines", "days.take", offer="o1", facts=facts)


def test_whoever_left_the_crew_is_planned_with_no_more(days: World) -> None:
    """Aled says he comes to the called lift, and leaves; Sofia, who may countersign, becomes a viewer. There is a plan."""
    days.do("ines", "lift.call", lift="L1", when_ms=START_MS + 40 * HOUR)
    for person in ("aled", "bram"):
        days.do(person, "lift.answer", lift="L1", will_come=True)
    assert "sofia" in (of(asked(days), f"T1{CHECK}").eligible or ())

    days.do("ines", "crew.leave", person="aled")
    days.do("ines", "crew.change_member", person="sofia", role="viewer")
    found = asked(days)

    fixed = of(found, "T3").fixed
    assert fixed is not None
    assert fixed.team == ("bram",)
    assert "sofia" not in (of(found, f"T1{CHECK}").eligible or ())
    assert check(found, list_schedule(found)) == []


def test_r21_a_private_limit_changes_no_problem(days: World) -> None:
    """R21: who suits a place and who does not are the same to planning."""
    hours = everybody()
    days.facts = Facts(hours=hours)
    before = asked(days)
    days.facts = replace(days.facts, suits={("bram", "front"): False, ("aled", "front"): False})

    assert asked(days) == before


def test_a_plan_lies_in_the_hours_that_were_given_and_passes_the_checker(days: World) -> None:
    found = asked(days)
    schedule = list_schedule(found)

    assert check(found, schedule) == []
    assert schedule.unplaced == ()
    for block in blocks_of(schedule, frame_at(days.state, days.now_ms)):
        minute = block["from_ms"] // MINUTE % (24 * 60)
        assert 9 * 60 <= minute < 17 * 60, block


def test_a_part_that_is_expected_later_holds_its_task(days: World) -> None:
    world = World(
        plan(
            task("T1", "Fit the seal", uses=[{"part": "P1"}]),
            parts=[{"id": "P1", "name": "Seal", "source": "donor"}],
        )
    )
    world.do("ines", "part.expect", part="P1", on="2026-06-10")
    found = of(asked(world), "T1")

    assert found.waits_for == "P1"
    assert (
        frame_at(world.state, world.now_ms).ms(found.release) == 1_781_049_600_000
    )  # 10 June 2026, 0:00 UTC


def offer(world: World, **more: Any) -> dict[str, Any]:
    block = {
        "task": "T1", "check": False, "from_ms": SATURDAY_MS + 5 * HOUR, "to_ms": SATURDAY_MS + 6 * HOUR,
        "team": ["bram"], "joiners": [], "company": [],
    }  # fmt: skip
    return {
        "blocks": [block], "unplaced": [], "gates": {}, "finish_ms": SATURDAY_MS + 6 * HOUR, "chain": ["T1"],
        "odds": [], "by": "list/1", **more,
    }  # fmt: skip


def taken(world: World, who: str = "ines", id: str = "o1", **more: Any) -> None:
    """A plan made up by hand is taken, whether or not it keeps the rules: what is seen of it afterwards is what counts."""
    with mock.patch("yokemate.rules.decide.days.no_longer", return_value=[]):
        world.do(who, "days.take", offer=id, facts=Facts(offer=offer(world, **more), hours=everybody()))


def test_r2_a_taken_plan_stands_in_the_entry_and_replays(days: World) -> None:
    """R2: starts and teams are in the record; nothing is worked out again."""
    days.do("ines", "days.take", offer="o1", facts=Facts(offer=offer(days), hours=everybody()))

    taken = days.get(DaysPlan, "days")
    assert taken.blocks[0].team == ["bram"]
    assert taken.taken.by == "ines"
    days.check_ledger()


def test_an_offer_that_is_gone_is_refused(days: World) -> None:
    days.refused("ines", "days.take", "offer_gone", offer="o1")


def test_r30_only_a_lead_takes_a_plan(days: World) -> None:
    days.refused("bram", "days.take", "role", offer="o1")


def test_who_cannot_come_any_more_is_named_to_the_lead_alone(days: World) -> None:
    days.do("ines", "days.take", offer="o1", facts=Facts(offer=offer(days), hours=everybody()))
    days.facts = Facts(hours=everybody())
    assert days.view("ines", "days").trouble == []

    gone = Hours(weekly=SATURDAYS.weekly, exceptions=[{"on": "2026-05-30", "comes": False}])  # type: ignore[list-item]
    days.facts = Facts(hours={**everybody(), "bram": gone})

    [trouble] = days.view("ines", "days").trouble
    assert (trouble.kind, trouble.person, trouble.task) == ("cannot_come", "bram", "T1")
    assert days.view("sofia", "days").trouble == []


def test_a_plan_is_seen_by_day_and_person(days: World) -> None:
    days.do("ines", "days.take", offer="o1", facts=Facts(offer=offer(days), hours=everybody()))
    [day] = days.view("priya", "days").days

    assert day.day == "Saturday 30 May"
    assert [
        (one.person, [(b.task, b.from_min, b.to_min, b.chain) for b in one.blocks]) for one in day.persons
    ] == [("bram", [("T1", 540, 600, True)])]


def test_r28_who_keeps_somebody_company_is_seen_to_be_there(days: World) -> None:
    """R28: Priya is asked to be in the garage while Bram is under the car; it is no work of hers."""
    block = {**offer(days)["blocks"][0], "task": "T2", "company": ["priya"]}
    taken(days, blocks=[block], chain=["T2"])
    [day] = days.view("priya", "days").days
    seen = {one.person: one.blocks[0] for one in day.persons}

    assert (seen["bram"].company, seen["bram"].beside, seen["bram"].chain) == (False, ["priya"], True)
    assert (seen["priya"].company, seen["priya"].with_people, seen["priya"].chain) == (True, ["bram"], False)


def test_r21_a_reason_is_said_in_counts(days: World) -> None:
    """A lift of three while two are ever free together: how many, never who and never why (R21)."""
    two = dict.fromkeys(("ines", "bram"), SATURDAYS)
    _, _, offered = at_once(days.state, two, days.now_ms)

    assert offered.data["unplaced"]
    said = next(one for one in offered.reasons if one.task == "T3")
    assert "at most two people" in said.says
    assert not any(person in said.says.lower() for person in PEOPLE)
    assert said.remedies


def test_r21_causes_are_said_with_hours_that_a_planner_may_read_and_nothing_else() -> None:
    """One Saturday, 8:00 to 17:00, Bram until 15:30. Painted until 9:00, cured at 12:00; the rig holds the crane for 5 h 30, until
    13:30 at the earliest; 2 h 30 of mounting, for which it takes brakes, then end at 16:00. Mounted first, the rig ends at 20:00.
    Without the cure it is 9:00 to 11:30, then the rig until 17:00. R21: people stand in `params` alone, and with hours alone.
    """
    cure = After(task="T1", lag=Lag(hours="3", why="paint cures"))
    world = World(
        plan(
            task("T1", "Paint", minutes=(60, 60, 60)),
            task("T2", "Mount", after=[cure], minutes=(150, 150, 150), lead_skill="brakes", tools=["K1"]),
            task("T3", "Rig", minutes=(330, 330, 330), tools=["K1"]),
            tools=[ToolPlan(id="K1", name="Crane")],
        )
    )

    def saturday(ends: str) -> Hours:
        return Hours.model_validate(
            {"exceptions": [{"on": "2026-05-30", "comes": True, "begins": "08:00", "ends": ends}]}
        )

    hours = dict.fromkeys(PEOPLE, saturday("17:00")) | {"bram": saturday("15:30")}
    problem, schedule, first = at_once(world.state, hours, world.now_ms)
    assert [(one.task, one.open, one.causes) for one in first.reasons] == [("T2", True, [])]
    assert first.data["unplaced"] == ["T2"]
    out = find_out(problem, schedule, lambda: False)
    [said] = reasons(world.state, problem, schedule, frame_at(world.state, world.now_ms), out)

    assert said.says == "T2, Task T2 can't have a place. Together these are in the way:"
    assert sorted(said.causes) == [
        "3 h that must pass between T1, Task T1 and T2, Task T2",
        "Crane, of which there is one",
        "T3, Task T3, which has a place",
        "that not everybody has the brakes skill",
        "when {n0_person} can come on Saturday 30 May",
    ]
    assert said.params == {"n0_person": "bram"}
    assert said.note == "With any one of them away, the others would leave a plan."
    assert said.remedies[0] == "{n0_person} stays 30 minutes longer on Saturday 30 May."
    assert not said.open


def test_hours_that_nobody_gave_are_asked_for(days: World) -> None:
    from yokemate.rules.refusals import Refused

    with pytest.raises(Refused) as refused:
        at_once(days.state, {}, days.now_ms)

    assert refused.value.code == "no_days"


def test_a_time_for_a_lift_says_who_and_what_comes_before(days: World) -> None:
    from yokemate.rules.rows import Lift

    def look(asked: Problem, task: str) -> Windows:
        return windows_for(asked, task, lambda: 0.0)

    found = times(days.state, everybody(), days.now_ms, days.get(Lift, "L1"), look)

    assert len(found.offers) == 3
    assert found.offers[0].cost_min == 0
    assert all(len(one.people) >= 3 for one in found.offers)
    assert [one.from_ms % (24 * HOUR) // HOUR >= 9 for one in found.offers] == [True] * 3


def test_a_replan_with_nothing_changed_changes_nothing(days: World) -> None:
    _, _, first = at_once(days.state, everybody(), days.now_ms)
    days.do("ines", "days.take", offer="o", facts=Facts(offer=first.data, hours=everybody()))
    _, _, again = at_once(days.state, everybody(), days.now_ms)

    assert again.differences == []
    assert again.stays > 0


def test_the_queue_says_that_a_planned_lift_waits(days: World) -> None:
    """R6: why this one."""
    world = World(
        plan(
            task("T1", "Clear the way"),
            task("T3", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, after=["T1"]),
            lifts=[lift("L1", mass_kg="20")],
        )
    )
    block = {**offer(world)["blocks"][0], "task": "T3"}
    taken(world, blocks=[block])

    start = world.view("bram", "queue").start_now
    assert start is not None
    assert start.reason.code == "planned_lift_waits"
    assert start.reason.params["when_ms"] == block["from_ms"]


@pytest.mark.parametrize("on", ["2026-02-30", "soon", "2026-1-5"])
def test_r32_a_plan_names_only_days_that_exist(on: str) -> None:
    """R32: a wanted date or an arrival that is no day never gets into a plan."""
    from pydantic import ValidationError

    from rules.world import gate

    with pytest.raises(ValidationError):
        gate("G1", wanted_on=on)
    with pytest.raises(ValidationError):
        plan(task("T1", "x"), parts=[{"id": "P1", "name": "Seal", "source": "new", "expected_on": on}])


def test_work_in_hand_goes_on_as_planned_until_that_is_over(days: World) -> None:
    """Bram has T1 from 9 on; a few minutes later nothing moves. When its planned hour is over, it stands now instead."""
    days.now_ms = SATURDAY_MS + 5 * HOUR  # 9:00
    days.do("bram", "crew.sign_in")
    days.do("bram", "task.take", task="T1")
    _, _, first = at_once(days.state, everybody(), days.now_ms)
    days.do("ines", "days.take", offer="o", facts=Facts(offer=first.data, hours=everybody()))
    mine = next(b for b in first.data["blocks"] if b["task"] == "T1" and not b["check"])

    days.later(minutes=7)
    asked_then, _, again = at_once(days.state, everybody(), days.now_ms)
    at = frame_at(days.state, days.now_ms)
    fixed = of(asked_then, "T1").fixed
    assert fixed is not None
    assert (at.ms(fixed.start), at.ms(fixed.start + of(asked_then, "T1").duration)) == (
        mine["from_ms"],
        mine["to_ms"],
    )
    assert [one for one in again.differences if one.task == "T1"] == []

    days.now_ms = mine["to_ms"] + MINUTE
    over = of(asked(days), "T1").fixed
    assert over is not None
    assert days.now_ms <= at.ms(over.start) < days.now_ms + 5 * MINUTE


def test_a_slip_of_a_few_minutes_is_counted_and_not_listed(days: World) -> None:
    """The plan began at 9:00; at 9:08 nobody has begun: what begins 10 minutes later with the same people is no news."""
    days.now_ms = SATURDAY_MS + 5 * HOUR
    _, _, first = at_once(days.state, everybody(), days.now_ms)
    days.do("ines", "days.take", offer="o", facts=Facts(offer=first.data, hours=everybody()))
    days.later(minutes=8)
    _, _, again = at_once(days.state, everybody(), days.now_ms)
    assert again.shifted > 0
    assert again.differences == []
