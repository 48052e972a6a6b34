"""R20: a load that is tilted in a phase is judged tilted. Shares by balance of moments (vertical hand forces), cases K1 and
K2 of the design worked out by hand; HSE L23 par. 119: on steps or slopes most of the weight may fall on the lower hands.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from rules import world as w
from yokemate.planfile.model import LiftPlan
from yokemate.rules.lift_let_go import let_go_words
from yokemate.rules.lift_shares import work_out_shares
from yokemate.rules.lift_unjudged import unjudged
from yokemate.rules.lift_verdict import judge_lift
from yokemate.rules.rows import Lift

ENDS = [
    {"id": "front", "say": "front", "kind": "lifter", "x_mm": "0", "y_mm": "0"},
    {"id": "rear", "say": "rear", "kind": "lifter", "x_mm": "2400", "y_mm": "0"},
]


def ramp(tilt_deg: str | None = "20", above_mm: str | None = "300", **more: Any) -> LiftPlan:
    """A load between two people 2.4 m apart, its centre of gravity in the middle, tilted in its only phase."""
    fields = {"mass_kg": "1000", "cg_x_mm": "1200", "supports": ENDS, "outline_mm": []} | more
    phase = {
        "say": "up the ramp",
        "supports": [one["id"] for one in fields["supports"]],
        "tilt_deg": tilt_deg,
    }
    return w.lift(**fields, phases=[phase], cg_above_hands_mm=above_mm)


def worst(plan: LiftPlan) -> dict[str, str]:
    return {share.support: share.worst_kg for share in work_out_shares(plan)[0]}


@pytest.mark.parametrize(
    ("tilt", "above", "lower", "upper"),
    [
        ("10", "300", "522.0", "478.0"),  # K1: 52.20 % below, 47.80 % above
        ("20", "300", "545.5", "454.5"),  # 54.55, 45.45
        ("30", "300", "572.2", "427.8"),  # 57.22, 42.78
        ("30", "-200", "548.1", "451.9"),  # K2: hands above the centre of gravity, the upper ones bear more
        ("0", "300", "500.0", "500.0"),
    ],
)
def test_either_end_may_be_the_lower_one(tilt: str, above: str, lower: str, upper: str) -> None:
    """1000 kg, so that a share in kg is ten times its percentage: at worst each end has the larger part."""
    shares, unfit, by = work_out_shares(ramp(tilt, above))
    assert (unfit, by) == (None, "statics 3")
    assert [(one.worst_kg, one.nominal_kg, one.least_kg) for one in shares] == [(lower, lower, upper)] * 2


def test_what_is_not_known_of_the_centre_reaches_up_and_down_too() -> None:
    """Anywhere within 20 mm, tilted by 30°: tried all round, the worst share is what was worked out."""
    tan = math.tan(math.radians(30))
    tried = max(
        500 + (300 * tan + 20 * math.cos(at) + 20 * math.sin(at) * tan) / 2400 * 1000
        for at in (math.radians(n) for n in range(360))
    )
    assert worst(ramp("30", cg_plus_minus_mm="20"))["front"] == pytest.approx(f"{tried:.1f}")


def test_the_verdict_is_that_of_the_tilted_phase() -> None:
    """48 kg, half on a dolly: 24 kg by hand on the level, 24 + 48·300·tan 20°/2400 = 26.2 on the ramp, over the 25 kg of HSE
    L23; 22.6 to 26.2 for the dolly, which is credited with the least."""
    supports = [ENDS[0], {**ENDS[1], "kind": "dolly", "rated_kg": "100"}]

    def judged(tilt: str) -> tuple[str, str]:
        plan = ramp(tilt, mass_kg="48", supports=supports)
        strong = judge_lift(plan, work_out_shares(plan)[0])[0]
        return strong.verdict, strong.team_share_kg

    assert judged("0") == ("within guidance", "24.0")
    assert judged("20") == ("above guidance", "26.2")


def test_it_may_tip_on_a_slope_that_does_not_on_the_level() -> None:
    """The centre 100 mm inside the rear hands and 300 mm above: tan 20° moves it 109 mm, past them."""
    assert work_out_shares(ramp("0", cg_x_mm="2300"))[1] is None
    assert work_out_shares(ramp("20", cg_x_mm="2300"))[1] == "tips"


def test_who_lets_go_on_a_slope() -> None:
    """60 kg over the middle one of three in a line: level it rests on that one when the front lets go, tilted it tips."""
    middle = {"id": "middle", "say": "middle", "kind": "lifter", "x_mm": "1200", "y_mm": "0"}
    three = {"supports": [ENDS[0], middle, ENDS[1]], "mass_kg": "60"}
    assert "Whoever lets go at “front”: “middle” bears 60.0 kg" in " ".join(let_go_words(ramp("0", **three)))
    assert let_go_words(ramp("20", **three))[0].startswith("Whoever lets go at “front” or “rear”")


def test_what_is_left_out_is_said() -> None:
    """A tilt without the height of the centre of gravity is reckoned level, and that is told; with it, that the shares are
    the least. Steps are told of where no phase tells their tilt."""
    path = {"length_m": "4", "steps": 3}
    told = {
        (tilt, above): [one.code for one in unjudged(ramp(tilt, above, path=path))]
        for tilt in ("20", None)
        for above in ("300", None)
    }
    assert told == {
        ("20", "300"): ["slope_at_least"],
        ("20", None): ["tilt_not_judged"],
        (None, "300"): ["steps_not_judged"],
        (None, None): ["steps_not_judged"],
    }
    assert worst(ramp("20", None)) == {"front": "500.0", "rear": "500.0"}


def test_the_height_is_weighed_too() -> None:
    """It is typed with the weighing, or stays as the plan has it; a height that no load has changes nothing."""
    world = w.World(w.plan(w.task("T1"), lifts=[ramp("20", None, mass_kg="30")]))
    weighed = {"lift": "L1", "mass_kg": "30", "cg_x_mm": "1200", "cg_y_mm": "0", "how_known_text": "tilted"}
    seen = [
        world.view("ines", "lift", lift="L1").load.tilted,
        world.view("ines", "lift", lift="L1").load.cg_above_hands_mm,
    ]
    assert seen == [True, None]

    world.do("ines", "lift.weigh", **weighed, cg_above_hands_mm="300")
    assert [one.worst_kg for one in world.state.get(Lift, "L1").shares] == ["16.4", "16.4"]  # 15 · 1.0910
    world.do("ines", "lift.weigh", **weighed)
    assert world.state.get(Lift, "L1").plan.cg_above_hands_mm == "300"
    refused = world.refused("ines", "lift.weigh", "bad_input", **weighed, cg_above_hands_mm="2001")
    assert refused.params["field"] == "cg_above_hands_mm"
