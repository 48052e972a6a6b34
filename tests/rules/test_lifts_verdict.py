"""Verdicts by published figures (R20), and what they allow. Cases and sources: HSE L23 par. 120 (two people two thirds,
three half of the sum), single figures 25 and 16 kg, the lifting equation NIOSH 94-110 rev. 9/2021; "over twice is
refused" is this project's choice (5-lifts 9b)."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from rules import world as w
from yokemate.planfile.model import LiftPhase, LiftPlan
from yokemate.rules.frame import Facts
from yokemate.rules.lift_shares import work_out_shares
from yokemate.rules.lift_verdict import judge_lift
from yokemate.rules.rows import Lift
from yokemate.rules.rows.lifts import Verdict


def shell(**more: Any) -> LiftPlan:
    """The body shell of 84 kg: with the crane's strap behind the middle and two at the front (1-product, step 2)."""
    supports = [
        {"id": "crane", "say": "crane", "kind": "crane", "x_mm": "1680", "y_mm": "0", "rated_kg": "500"},
        {"id": "left", "say": "front left", "kind": "lifter", "x_mm": "0", "y_mm": "-600"},
        {"id": "right", "say": "front right", "kind": "lifter", "x_mm": "0", "y_mm": "600"},
    ]
    return w.lift(mass_kg="84", cg_x_mm="1040", cg_y_mm="0", supports=supports, **more)


def verdicts(plan: LiftPlan) -> dict[str, Verdict]:
    shares, unfit, _ = work_out_shares(plan)
    assert unfit is None
    return {one.figure_kg: one for one in judge_lift(plan, shares)}


def test_the_crane_behind_the_middle_makes_it_within_guidance() -> None:
    """1-product: the crane takes 52 kg, the two at the front 16 each; 32 together, two thirds of 25 + 25 is 33.3."""
    plan = shell()
    shares, _, _ = work_out_shares(plan)
    assert {s.support: s.nominal_kg for s in shares} == {"crane": "52.0", "left": "16.0", "right": "16.0"}
    found = verdicts(plan)
    assert found["25"].verdict == "within guidance"
    assert found["25"].team_limit_kg == "33.3"
    assert found["16"].verdict == "above guidance"  # 32 against 21.3, L23 prints 21 for 16 + 16
    assert found["16"].team_limit_kg == "21.3"


def test_by_hand_it_is_refused() -> None:
    """Two at the rear bear 23 each, one at the front 38; 84 is over twice the 37.5 of three people (L23: half of 75)."""
    supports = [
        {"id": "front", "say": "front", "kind": "lifter", "x_mm": "0", "y_mm": "0"},
        {"id": "left", "say": "rear left", "kind": "lifter", "x_mm": "1900", "y_mm": "-600"},
        {"id": "right", "say": "rear right", "kind": "lifter", "x_mm": "1900", "y_mm": "600"},
    ]
    found = verdicts(w.lift(mass_kg="84", cg_x_mm="1040", cg_y_mm="0", supports=supports))["25"]
    assert found.verdict == "refused"
    assert {(r.place, r.rule) for r in found.passed} == {("front", "own place"), ("", "team")}
    assert found.team_limit_kg == "37.5"


@pytest.mark.parametrize(
    ("mass", "verdict"), [("33", "within guidance"), ("34", "above guidance"), ("67", "refused")]
)
def test_two_people_and_the_team_figure(mass: str, verdict: str) -> None:
    """L23: two thirds of 25 + 25 is 33.3 kg; over twice that, 66.7, is refused."""
    assert verdicts(w.lift(mass_kg=mass))["25"].verdict == verdict


def test_far_reach_lowers_the_figure() -> None:
    """N9 of 5-lifts: reach 40 cm, hands at 95, travel 50, good grip: 12.30 kg each (NIOSH formula); 15 is above it."""
    phase = {
        "say": "set down",
        "supports": ["front", "rear"],
        "reach_cm": "40",
        "hands_height_cm": "95",
        "vertical_travel_cm": "50",
        "grip": "good",
    }
    found = verdicts(w.lift(mass_kg="30", phases=[phase]))["25"]
    assert found.verdict == "above guidance"
    assert {r.limit_kg for r in found.passed if r.rule == "own place"} == {"12.3"}


@pytest.mark.parametrize("far", [{"reach_cm": "250"}, {"hands_height_cm": "310"}])
def test_hands_where_nobody_has_them_allow_nothing(far: dict[str, str]) -> None:
    """NIOSH 94-110: above a reach of 63 cm or a height of 175 cm the limit is nought; further out it is no other."""
    phase = {
        "say": "set down",
        "supports": ["front", "rear"],
        "reach_cm": "40",
        "hands_height_cm": "95",
        **far,
    }
    assert verdicts(w.lift(mass_kg="30", phases=[phase]))["25"].verdict == "refused"


def test_refused_has_no_way_through_and_above_needs_a_reason_and_each_lifters_yes(new_world: Any) -> None:
    """R20: refused is refused whatever is said; above guidance takes a reason, then everybody's own yes."""
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="80"), w.lift("L2", mass_kg="36")]))
    soon = world.now_ms + w.HOUR
    world.refused(
        "ines", "lift.call", "over_guidance", lift="L1", when_ms=soon, above_reason_text="we always do"
    )
    world.refused("ines", "lift.call", "above_guidance", lift="L2", when_ms=soon)
    world.do("ines", "lift.call", lift="L2", when_ms=soon, above_reason_text="short, level, two strong ones")
    world.do("bram", "lift.answer", lift="L2", will_come=True)
    assert (
        world.refused("bram", "lift.take_place", "yes_wanted", lift="L2", place="front").params["share_kg"]
        == "18.0"
    )
    world.do("bram", "lift.take_place", lift="L2", place="front", yes_to_my_share=True)


def test_somebodys_own_limit_stands_above_any_yes(new_world: Any) -> None:
    """R20: a limit of one's own is refused to oneself, whatever was agreed; nobody else reads why."""
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L2", mass_kg="36")]))
    world.do("ines", "lift.call", lift="L2", when_ms=world.now_ms + w.HOUR, above_reason_text="short")
    world.do("priya", "lift.answer", lift="L2", will_come=True)
    facts = Facts(suits={("priya", "front"): False})
    world.refused(
        "priya",
        "lift.take_place",
        "does_not_suit",
        lift="L2",
        place="front",
        yes_to_my_share=True,
        facts=facts,
    )


def test_a_new_weighing_is_judged_anew(new_world: Any) -> None:
    """R20, R21: verdicts follow the figures, and stand in the entry (R2)."""
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1")]))
    assert {v.verdict for v in world.get(Lift, "L1").verdicts if v.figure_kg == "25"} == {"within guidance"}
    world.do("bram", "lift.weigh", lift="L1", mass_kg="36", cg_x_mm="500", cg_y_mm="0", how_known="scales")
    assert {v.verdict for v in world.get(Lift, "L1").verdicts if v.figure_kg == "25"} == {"above guidance"}
    assert world.entries[-1].data["verdicts"][0]["by"] == "lifting 1"


def test_older_plans_and_ledgers_say_travel_otherwise() -> None:
    """R2: `travel_cm` of before is the vertical travel; where both stand the newer one is meant and the other is unknown."""
    older = {"say": "Up", "supports": ["front"], "travel_cm": "50"}
    assert LiftPhase.model_validate(older).vertical_travel_cm == "50"
    assert "travel_cm" not in LiftPhase.model_validate(older).model_dump()
    with pytest.raises(ValidationError, match="travel_cm"):
        LiftPhase.model_validate(older | {"vertical_travel_cm": "60"})
