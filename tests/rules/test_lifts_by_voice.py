"""A lift by voice, reported afterwards (R18, R22)."""

from __future__ import annotations

from typing import Any

import pytest

from rules import world as w
from rules.lift_yard import CREW, Yard
from rules.world import World
from yokemate.planfile.model import Step


def test_r18_by_voice_is_reported_afterwards_marked_so_and_signed() -> None:
    yard = Yard().crewed()
    yard.act("desmond", "report_by_voice", places=CREW, lifted_ms=10, set_down_ms=20)
    lift = yard.lift()
    assert lift.by_voice
    assert lift.voice_marks == []
    assert lift.set_down is not None
    assert lift.set_down.at_ms == 20
    assert yard.ends(kind="propped") != []
    yard.no("somebody_else", "desmond", "sign_landed")
    yard.act("sofia", "sign_landed")
    assert yard.lift().state == "landed"


def test_r18_a_report_by_voice_is_never_refused_for_who_lifted() -> None:
    """It has happened: a minor at a place, an empty place are marks (R22, and the spirit of reports)."""
    yard = Yard().crewed()
    yard.act("aled", "report_by_voice", places={"fl": "kofi", "fr": "aled"}, lifted_ms=10, set_down_ms=20)
    assert yard.lift().voice_marks == ["minor_no_place", "place_empty"]
    assert not yard.lift().set_down_by_caller


def test_r32_a_report_by_voice_must_be_well_formed() -> None:
    yard = Yard().crewed()
    yard.no("unknown", "aled", "report_by_voice", places={"roof": "aled"}, lifted_ms=1, set_down_ms=2)
    yard.no("unknown", "aled", "report_by_voice", places={"fl": "nobody"}, lifted_ms=1, set_down_ms=2)
    yard.no("bad_input", "aled", "report_by_voice", places={"fl": "aled"}, lifted_ms=3, set_down_ms=2)


@pytest.mark.parametrize("state", ["lifting", "held"])
def test_r18_r19_a_report_by_voice_changes_nothing_under_a_load_that_is_up(state: str) -> None:
    """It would take the word *held*, the roll and STOP from those who hold the load: it is kept, and that is all."""
    yard = Yard().lifting()
    if state == "held":
        yard.act("vera", "stop")
    before = yard.lift()
    entry = yard.act("carla", "report_by_voice", places={"fl": "carla"}, lifted_ms=10, set_down_ms=20)[0]
    assert entry.data["counts"] is False
    assert yard.lift() == before
    assert "lift.report_by_voice" not in yard.view("lift", "carla", lift="L1").can


def test_r18_who_was_named_wrongly_is_reported_again() -> None:
    """Until somebody has signed, one by voice is said anew; STOP upon it makes it a load that is up (R19)."""
    yard = Yard().crewed()
    yard.act("desmond", "report_by_voice", places={"fl": "aled"}, lifted_ms=10, set_down_ms=20)
    yard.act("desmond", "report_by_voice", places=CREW, lifted_ms=10, set_down_ms=30)
    assert yard.lift().places == CREW
    assert yard.lift().set_down is not None
    yard.act("vera", "stop")
    yard.act("desmond", "report_by_voice", places={"fl": "aled"}, lifted_ms=10, set_down_ms=40)
    assert (yard.lift().state, yard.lift().set_down, yard.lift().places) == ("held", None, CREW)


@pytest.mark.parametrize("field", ["lifted_ms", "set_down_ms"])
def test_r32_what_went_by_voice_is_over(field: str) -> None:
    """Five minutes are left to clocks that differ, as where a lift is called for *now*."""
    yard = Yard().crewed()
    soon = yard.now_ms + 60_000 + 300_000  # the act itself takes a minute of this garage's clock
    times = {"lifted_ms": soon if field == "lifted_ms" else 10, "set_down_ms": soon}
    late = times | {field: soon + 1, "set_down_ms": soon + 1}
    yard.no("bad_input", "desmond", "report_by_voice", places=CREW, **late)
    yard.now_ms -= 60_000
    yard.act("desmond", "report_by_voice", places=CREW, **times)


def test_r22_where_fewer_than_two_were_named_anybody_else_signs() -> None:
    """Else nobody could, and the lift would hang for ever. A viewer changes nothing (R30)."""
    yard = Yard().crewed()
    yard.act("carla", "report_by_voice", places={"fl": "carla"}, lifted_ms=10, set_down_ms=20)
    yard.no("somebody_else", "carla", "sign_landed")
    assert "lift.sign_landed" not in yard.view("lift", "vera", lift="L1").can
    assert "lift.sign_landed" in yard.view("lift", "ines", lift="L1").can
    yard.act("ines", "sign_landed")
    assert yard.lift().state == "landed"
    two = Yard().crewed()
    two.act("carla", "report_by_voice", places={"fl": "carla", "fr": "bram"}, lifted_ms=10, set_down_ms=20)
    two.no("was_not_there", "ines", "sign_landed")


def test_r20_a_report_by_voice_says_what_its_verdict_was(new_world: w.Any) -> None:
    """45 kg for two, published figure 33.3 (HSE L23): above guidance, and no reason was given. 130 kg: refused.

    The screen says how much, and which place was empty.
    """
    for mass_kg, code in (("30", None), ("45", "above_guidance"), ("130", "over_guidance")):
        world: World = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg=mass_kg)]))
        there = {"front": "bram", "rear": "aled"}
        world.do("bram", "lift.report_by_voice", lift="L1", places=there, lifted_ms=1, set_down_ms=2)
        marks = {mark.code: mark.params for mark in world.view("ines", "lift", lift="L1").voice_marks}
        assert marks.pop("place_empty") == {"place": "caller"}
        assert list(marks) == ([code] if code else [])
        if code:
            assert marks[code] == {
                "place": "the people together",
                "share_kg": f"{mass_kg}.0",
                "limit_kg": "33.3",
            }


def test_r18_a_load_stopped_after_it_was_reported_by_voice_goes_on_by_roll() -> None:
    yard = Yard().crewed()
    yard.act("desmond", "report_by_voice", places=CREW, lifted_ms=10, set_down_ms=20)
    yard.act("vera", "stop")
    assert yard.lift().state == "held"
    assert yard.no("not_ready_person", "desmond", "go_on")["person"] == "aled"


def test_r22_what_is_down_lets_its_step_go_and_the_signature_holds_the_sign_off(new_world: Any) -> None:
    """Without a link the second signature can be hours away: the work goes on, and is not signed off without it."""
    step = Step(id="s1", say="Lift it on", kind="lift")
    world: World = new_world(w.plan(w.task("T1", step, lift="L1"), lifts=[w.lift("L1")]))
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "lift_not_down", task="T1", steps=["s1"])
    places = {"front": "bram", "rear": "aled", "caller": "sofia"}
    world.do("sofia", "lift.report_by_voice", lift="L1", places=places, lifted_ms=1, set_down_ms=2)
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.refused("bram", "task.sign_off", "lift_not_landed", task="T1")
    world.do("aled", "lift.sign_landed", lift="L1")
    world.do("bram", "task.sign_off", task="T1")
