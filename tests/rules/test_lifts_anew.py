"""What was asked, judged or answered for another load, another plan or another call does not count for this one (R18, R20, R21, R26).

`world.lift()` has two lifters at the ends of a load with its centre in the middle: each bears half. For two people the
published team figure is two thirds of 25 + 25 = 33.3 kg (HSE L23, para 120); over twice that, 66.7 kg, is refused.
"""

from __future__ import annotations

from typing import Any

import pytest

from rules import world as w
from rules.world import World
from yokemate.planfile.model import Step
from yokemate.rules.lift_crew import lift_wants
from yokemate.rules.rows import Lift

PLACES = {"front": "bram", "rear": "aled", "caller": "sofia"}
OVER = {"within": "33", "above": "45", "refused": "130"}


def ready_to_lift(new_world: Any, *, mass_kg: str = "30", **call: Any) -> World:
    """Called, its places taken, ready, the roll ticked: one word before *Lift*."""
    world: World = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg=mass_kg)]))
    world.do("ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR, **call)
    crew_up(world)
    return world


def crew_up(world: World, *, lift: str = "L1") -> None:
    yes = {"yes_to_my_share": True} if world.get(Lift, lift).above_reason else {}
    for place, who in PLACES.items():
        world.do(who, "lift.take_place", lift=lift, place=place, **yes)
    for who in ("bram", "aled"):
        world.do(who, "lift.ready", lift=lift)
    for place in ("front", "rear"):
        world.do("sofia", "lift.roll", lift=lift, place=place)
    world.do("sofia", "lift.clear_floor", lift=lift, children_out=True, nobody_beneath=True)


def weigh(world: World, mass_kg: str) -> None:
    world.do(
        "bram", "lift.weigh", lift="L1", mass_kg=mass_kg, cg_x_mm="500", cg_y_mm="0", how_known_text="scales"
    )


@pytest.mark.parametrize(("found", "code"), [("above", "above_guidance"), ("refused", "over_guidance")])
def test_r20_what_is_weighed_heavier_than_the_call_allowed_is_called_off(
    new_world: Any, found: str, code: str
) -> None:
    """Called at 30 kg; 45 kg wants a reason and each lifter's yes, 130 kg is refused: both are called anew, or not at all."""
    world = ready_to_lift(new_world)
    weigh(world, OVER[found])
    lift = world.get(Lift, "L1")
    assert (lift.state, lift.stood_down_why, lift.places) == ("stood_down", "weighed", {})
    world.refused("sofia", "lift.lift", "not_in_state", lift="L1")
    world.refused("ines", "lift.call", code, lift="L1", when_ms=world.now_ms + w.HOUR)


def test_r20_what_is_weighed_within_what_the_call_allowed_asks_everybody_anew(new_world: Any) -> None:
    world = ready_to_lift(new_world)
    weigh(world, OVER["within"])
    assert (world.get(Lift, "L1").state, world.get(Lift, "L1").places) == ("called", {})
    above = ready_to_lift(new_world, mass_kg="40", above_reason_text="short and level")
    weigh(above, OVER["above"])
    assert above.get(Lift, "L1").state == "called"
    above.refused("bram", "lift.take_place", "yes_wanted", lift="L1", place="front")


@pytest.mark.parametrize(("found", "code"), [("above", "above_guidance"), ("refused", "over_guidance")])
def test_r18_r20_a_verdict_that_the_call_did_not_allow_stands_between_the_crew_and_lift(
    new_world: Any, found: str, code: str
) -> None:
    """Builds of before hold such lifts: called at one load, weighed at another."""
    world = ready_to_lift(new_world)
    heavy = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg=OVER[found])])).get(Lift, "L1")
    old = world.get(Lift, "L1").model_copy(update={"shares": heavy.shares, "verdicts": heavy.verdicts})
    alive = {*PLACES.values()}
    assert lift_wants(world.state, world.get(Lift, "L1"), world.now_ms, alive) == []
    assert [want.code for want in lift_wants(world.state, old, world.now_ms, alive)] == [code]
    reason = old.model_copy(update={"above_reason": "p-1"})
    wants = [want.code for want in lift_wants(world.state, reason, world.now_ms, alive)]
    assert wants == ([] if found == "above" else [code])


def plan_with(mass_kg: str) -> Any:
    return w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg=mass_kg)])


@pytest.mark.parametrize("state", ["in_place", "lifting", "held"])
def test_r18_a_plan_with_another_load_is_not_loaded_under_a_lift_that_goes_on(
    new_world: Any, state: str
) -> None:
    """Nor one without it. The same plan, or one that changes something else, is."""
    world = ready_to_lift(new_world)
    if state != "in_place":
        world.do("sofia", "lift.lift", lift="L1")
    if state == "held":
        world.do("vera", "lift.stop", lift="L1")
    for other in (plan_with("200"), w.plan(w.task("T1"))):
        refused = world.refused("ines", "plan.load", "lift_goes_on", plan=other, options={})
        assert refused.params == {"lift": "Lift L1"}
    world.load(w.plan(w.task("T1"), w.task("T2"), lifts=[w.lift("L1")]))
    assert world.get(Lift, "L1").state == state


def test_r20_a_plan_with_another_load_draws_a_called_lift_anew(new_world: Any) -> None:
    world = ready_to_lift(new_world)
    world.do("bram", "lift.ready", lift="L1", ready=False)
    world.load(plan_with("200"))
    assert (world.get(Lift, "L1").state, world.get(Lift, "L1").plan.mass_kg) == ("drafted", "200")


def called_anew(world: World, how: str) -> None:
    """The same lift, asked anew: stood down and called again, or weighed while it is called."""
    if how == "weighed":
        weigh(world, OVER["within"])
    else:
        world.do("ines", "lift.stand_down", lift="L1")
        world.do("ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR)


@pytest.mark.parametrize("how", ["weighed", "called"])
def test_r21_what_was_answered_to_the_call_before_does_not_count_for_this_one(
    new_world: Any, how: str
) -> None:
    """It waited on a phone. Who sends no round (phones of before) is taken at their word, as they were."""
    world = ready_to_lift(new_world)
    before = world.view("bram", "lift", lift="L1").round
    called_anew(world, how)
    old, now = {"lift": "L1", "round": before}, {"lift": "L1", "round": before + 1}
    assert world.view("bram", "lift", lift="L1").round == before + 1
    world.refused("bram", "lift.answer", "asked_anew", **old, will_come=True)
    world.refused("bram", "lift.take_place", "asked_anew", **old, place="front")
    world.do("bram", "lift.answer", **now, will_come=True)
    world.do("bram", "lift.take_place", **now, place="front")
    world.refused("bram", "lift.ready", "asked_anew", **old)
    world.do("bram", "lift.ready", **now)
    world.do("aled", "lift.take_place", lift="L1", place="rear")
    assert world.get(Lift, "L1").places == {"front": "bram", "rear": "aled"}


def test_r19_r21_a_report_about_the_call_before_is_kept_and_changes_nothing(new_world: Any) -> None:
    world = ready_to_lift(new_world)
    called_anew(world, "called")
    world.do("bram", "lift.take_place", lift="L1", place="front")
    before = world.get(Lift, "L1")
    world.do("bram", "lift.leave_place", lift="L1", round=before.round - 1)
    world.do("ines", "lift.stand_down", lift="L1", round=before.round - 1)
    assert world.get(Lift, "L1") == before
    world.do("bram", "lift.leave_place", lift="L1", round=before.round)
    world.do("ines", "lift.stand_down", lift="L1", round=before.round)
    assert (world.get(Lift, "L1").places, world.get(Lift, "L1").state) == ({}, "stood_down")


def test_r20_a_yes_is_to_ones_own_figure(new_world: Any) -> None:
    """Half of 40 kg, then half of 45 kg: another figure is another question. Comma or point is no difference."""
    world: World = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="40")]))
    world.do(
        "ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR, above_reason_text="short and level"
    )
    weigh(world, OVER["above"])
    place: dict[str, Any] = {"lift": "L1", "place": "front", "yes_to_my_share": True}
    refused = world.refused("bram", "lift.take_place", "share_changed", **place, my_share_kg="20.0")
    assert refused.params == {"share_kg": "22.5"}
    world.do("bram", "lift.take_place", **place, my_share_kg="22,5")


def landed_and_signed_off(new_world: Any) -> World:
    """T1 wants L1: lifted, set down, signed as landed, its step ticked, the task signed off."""
    step = Step(id="s1", say="Lift it on", kind="lift")
    world: World = new_world(w.plan(w.task("T1", step, lift="L1"), lifts=[w.lift("L1")]))
    world.do("bram", "task.take", task="T1")
    world.do("ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR)
    crew_up(world)
    world.do("sofia", "lift.lift", lift="L1")
    world.do("sofia", "lift.set_down", lift="L1")
    world.do("aled", "lift.sign_landed", lift="L1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("bram", "task.sign_off", task="T1")
    return world


def test_r26_a_task_that_is_undone_wants_its_lift_again(new_world: Any) -> None:
    """Shown before: the signature as landed is crossed out, the lift is called again. Else its step would tick without one."""
    world = landed_and_signed_off(new_world)
    shown = world.view("bram", "undo", task="T1")
    assert shown.comes_back.lifts_again == ["L1"]
    assert {(sign.what, sign.by, sign.about) for sign in shown.comes_back.signatures} == {
        ("sign_off", "bram", "T1"),
        ("landed", "aled", "L1"),
    }
    assert shown.names["L1"] == "Lift L1"
    world.do("bram", "task.undo", task="T1", reason="damaged", list_digest=shown.list_digest)
    lift = world.get(Lift, "L1")
    assert (lift.state, lift.landed, lift.set_down, lift.there, lift.places) == (
        "drafted",
        None,
        None,
        [],
        {},
    )
    assert [pair.by for pair in lift.crossed_out] == ["aled"]
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "lift_not_down", task="T1", steps=["s1"])
    world.do("ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR)
    crew_up(world)
    world.do("sofia", "lift.lift", lift="L1")
    world.refused("aled", "lift.sign_landed", "not_in_state", lift="L1")


def test_r26_a_lift_that_has_not_landed_is_left_alone(new_world: Any) -> None:
    """Nor is that of another task."""
    world: World = new_world(w.plan(w.task("T1"), w.task("T2", lift="L1"), lifts=[w.lift("L1")]))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("bram", "task.sign_off", task="T1")
    world.do("sofia", "lift.report_by_voice", lift="L1", places=PLACES, lifted_ms=1, set_down_ms=2)
    world.do("aled", "lift.sign_landed", lift="L1")
    shown = world.view("bram", "undo", task="T1")
    assert shown.comes_back.lifts_again == []
    world.do("bram", "task.undo", task="T1", reason="damaged", list_digest=shown.list_digest)
    assert world.get(Lift, "L1").state == "landed"


def test_r20_a_lift_that_comes_back_wants_the_plans_load_of_today(new_world: Any) -> None:
    """Landed at 30 kg; the plan has 60 kg since, which a landed lift does not take over; then its task is undone."""
    world = landed_and_signed_off(new_world)
    step = Step(id="s1", say="Lift it on", kind="lift")
    heavier = w.plan(w.task("T1", step, lift="L1"), lifts=[w.lift("L1", mass_kg="60")])
    world.load(heavier)
    digest = world.view("bram", "undo", task="T1").list_digest
    world.do("bram", "task.undo", task="T1", reason="damaged", list_digest=digest)
    call = {"lift": "L1", "when_ms": world.now_ms + w.HOUR, "above_reason_text": "short and level"}
    assert world.get(Lift, "L1").plan.mass_kg == "30"
    world.refused("ines", "lift.call", "lift_outdated", **call)
    world.load(heavier)
    assert (world.get(Lift, "L1").plan.mass_kg, world.get(Lift, "L1").outdated) == ("60", False)
    world.do("ines", "lift.call", **call)
