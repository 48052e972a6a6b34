"""The doubtful figures of a plan: one planted at a time, with the figure that makes it doubtful worked out by hand or
taken from the table named beside it (R20, R24).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

import pytest

from rules.world import group, plan, spec, task
from yokemate.planfile.findings import Finding
from yokemate.planfile.model import (
    Belt,
    CutList,
    LiftPath,
    LiftPlan,
    Plan,
    Pulley,
    Step,
    Support,
    Target,
    Tolerance,
    ToolPlan,
    TorqueWrenchPlan,
    Wire,
)
from yokemate.planfile.read import read
from yokemate.rules.doubts import doubts


def found(made: Plan) -> dict[str, Finding]:
    """Doubts by code; each says why, what to do, and by what it was judged."""
    told = doubts(made, {})
    for one in told:
        assert one.level == "doubt" and one.says and one.remedy and one.source, one
    return {one.code: one for one in told}


def bolts(
    torque: str, strength: str = "8.8", thread: str = "M10", lubrication: str = "dry", **more: Any
) -> Plan:
    unit = more.pop("unit", "n_m")
    one = spec("J1").model_copy(
        update={"thread": thread, "property_class": strength, "lubrication": lubrication,
                "target": Target(torque=torque, unit=unit)} | more
    )  # fmt: skip
    return plan(task("T1", "Look"), specs=[one], groups=[group("G1", spec="J1")])


@pytest.mark.parametrize(
    ("made", "code", "words"),
    [
        # 5 to 9 of the trade pairs: percent of proof load by K·d·F and ISO 898-1
        (bolts("74", thread="M12", unit="lbf_ft"), "near_proof", "makes 86 % of the proof load"),  # Z5: 85.5
        (bolts("50.165", nut_factor="0.13"), "over_proof", "makes 115 % of the proof load"),  # Z1: 114.7
        (bolts("50.165", "10.9", lubrication="oiled"), "over_proof_if_slippery", "but 104 % at 0.1"),  # Z2: 69.5 × 1.5
        (bolts("74", "10.9", thread="M12"), "two_units_likely", "74 lbf·ft is 100 N·m"),
        # M12 10.9 proof 70.0 kN (ISO 898-1): 50/(0.2·12) = 20.8 kN, 30 %; × 1.356 = 40 %
        (bolts("50", "10.9", thread="M12"), "other_unit_likely", "makes 30 % of the proof load of M12 10.9; in lbf·ft it would make 40 %"),
        # M10 8.8 proof 33.7 kN: 2/(0.2·10) = 1 kN
        (bolts("2"), "hardly_squeezes", "makes only 3 %"),
        (bolts("44", thread="M11"), "bolt_unknown", "M11 is not in the table"),
        (bolts("30", "grade 5"), "bolt_unknown", "grade 5 is for inch threads"),
        (bolts("44", lubrication="as delivered"), "lubrication_unclear", '"as delivered" does not say plainly'),
        (bolts("44", lubrication="dry, oiled"), "lubrication_unclear", '"dry, oiled" does not say plainly'),
        (bolts("30", nut_factor="0.10"), "nut_factor_unlike", "0.18 to 0.27"),  # dry, published range
    ],
)  # fmt: skip
def test_a_torque_against_its_bolt(made: Plan, code: str, words: str) -> None:
    told = found(made)
    assert words in told[code].says
    assert told[code].field.startswith("spec J1, ")


@pytest.mark.parametrize(
    "made",
    [
        bolts("50.165"),  # Z1: 74.6 % dry, the 75 % rule itself
        bolts("50.165", "10.9"),  # Z2: 52 %
        bolts("24", "8.8", thread="M8", lubrication="dry zinc"),
        bolts("57", "10.9", thread="M10x1.25", lubrication="oiled", nut_factor="0.16"),  # the outline's J05
        bolts("40", "A2-70"),  # no standard defines a proof load for stainless bolts
        bolts("16", None, thread="M10x1 tube nut", lubrication="brake fluid only"),  # type: ignore[arg-type]  # the seat decides
    ],
)
def test_no_doubt_about_a_usual_torque(made: Plan) -> None:
    assert found(made) == {}


def test_a_castle_nut_is_judged_at_its_upper_end() -> None:
    """M12x1.25 8.8, As 92.07: proof 53.4 kN. 58 N·m is 45 %; turned on to 110 it is 110/2.4 = 45.8 kN, 86 %."""
    target = Target(kind="castle", torque="58", torque_max="110", unit="n_m")
    assert "110 N·m makes 86 %" in found(bolts("58", thread="M12x1.25", target=target))["near_proof"].says


def test_a_torque_before_angles_seats_the_joint_only() -> None:
    """M10 10.9, As 57.99: proof 48.13 kN. Oiled, 25 N·m is 25/1.5 = 16.7 kN, 35 %: nothing is said. Meant in lbf·ft and
    written so by mistake, 60 is 81.3/1.5 = 54.2 kN, 113 %, before anybody turns it on.
    """
    for torque, unit, code in (("25", "n_m", None), ("60", "lbf_ft", "high_before_angle")):
        target = Target(kind="torque_angle", torque=torque, unit=unit, angles_deg=["60", "30"])  # type: ignore[arg-type]
        told = found(bolts(torque, "10.9", lubrication="oiled", target=target))
        assert list(told) == ([code] if code else [])
        assert code is None or "60 lbf·ft alone makes 113 %" in told[code].says


def test_a_doubtful_spec_names_its_bolt_groups() -> None:
    assert "It holds for" in found(bolts("50.165", nut_factor="0.13"))["over_proof"].says


def test_a_scale_without_a_mark_near_the_figure() -> None:
    """Marks every 5 from 20: 90 is the nearest to 92, and 91 the least that will do."""
    coarse = TorqueWrenchPlan(unit="n_m", lowest="20", highest="200", step="5")
    made = bolts("92", "10.9", thread="M12", tolerance=Tolerance(minus="1", plus="1"))
    made = Plan.model_validate(
        made.model_dump() | {"tools": [ToolPlan(id="W1", name="W1", torque_wrench=coarse).model_dump()]}
    )
    assert "within -1 and +1" in found(made)["marks_too_coarse"].says
    finer = made.model_copy(
        update={
            "tools": [ToolPlan(id="W1", name="W1", torque_wrench=coarse.model_copy(update={"step": "1"}))]
        }
    )
    assert found(finer) == {}


def test_a_castle_nut_may_be_set_anywhere_in_its_range() -> None:
    """57 to 75 N·m, marks every 5: 60 is inside, though 55 is nearer to 57."""
    target = Target(kind="castle", torque="57", torque_max="75", unit="n_m")
    made = bolts("57", thread="M12x1.25", target=target, tolerance=Tolerance(minus="0", plus="0"))
    coarse = TorqueWrenchPlan(unit="n_m", lowest="20", highest="200", step="5")
    made = Plan.model_validate(
        made.model_dump() | {"tools": [ToolPlan(id="W1", name="W1", torque_wrench=coarse).model_dump()]}
    )
    assert "marks_too_coarse" not in found(made)


def by_hand(
    mass_kg: str, *more: Support, guides: int = 0, must: int = 2, path: LiftPath | None = None
) -> Plan:
    lift = LiftPlan(
        id="L1", title="Shell", mass_kg=mass_kg, cg_x_mm="500", cg_y_mm="0", guides=guides, path=path,
        supports=[
            Support(id="a", say="front", kind="lifter", x_mm="0", y_mm="0"),
            Support(id="b", say="rear", kind="lifter", x_mm="1000", y_mm="0"), *more,
        ],
    )  # fmt: skip
    return plan(
        task("T1", Step(id="s1", say="Lift it", kind="lift"), lift="L1", must_people=must), lifts=[lift]
    )


def test_a_lift_is_held_against_the_published_figures() -> None:
    """HSE L23 par. 120: two people 2/3 of the sum. 25 + 25 → 33.3 kg, 16 + 16 → 21.3; over twice it is refused."""
    assert found(by_hand("20")) == {}
    few = found(by_hand("30"))["lift_for_few"]
    assert "30.0 kg for all who lift, and 21.3 kg is their figure together" in few.says
    above = found(by_hand("40"))["lift_above_guidance"]
    assert "40.0 kg for all who lift, and 33.3 kg is their figure together" in above.says
    assert above.field == "lift L1"
    refused = found(by_hand("67"))["lift_refused"]
    assert "33.5 kg at front, and the figure for one person there is 25.0 kg" in refused.says


def test_steps_on_the_way_are_not_judged() -> None:
    """HSE L23 par. 120: on steps or slopes most weight may fall on the lower handlers. 20 kg by two is within guidance level."""
    for steps, words in ((1, "1 step on the way"), (12, "12 steps on the way")):
        told = found(by_hand("20", path=LiftPath(length_m="5", steps=steps)))
        assert set(told) == {"steps_not_judged"}
        assert words in told["steps_not_judged"].says
        assert told["steps_not_judged"].field == "lift L1, path, steps"
    assert found(by_hand("20", path=LiftPath(length_m="5", steps=0))) == {}


def test_more_than_four_who_lift_are_told_of() -> None:
    """HSE L23 par. 120: more than four are unlikely to work together. 30 kg by four or five is within half of 75 all the same."""

    def told(lifters: int) -> dict[str, Finding]:
        more = [
            Support(id=f"p{n}", say=f"place {n}", kind="lifter", x_mm=str(n * 200), y_mm="300")
            for n in range(1, lifters - 1)
        ]
        return found(by_hand("30", *more))

    assert "many_lifters" not in told(4)
    assert told(5)["many_lifters"].says.startswith("5 lift together, and the best three count")


def test_a_machine_s_marking_is_known_and_not_passed() -> None:
    """A dolly in the middle of 90 kg: between nothing and all of it, for it is stiff."""
    dolly = Support(id="d", say="dolly", kind="dolly", x_mm="500", y_mm="0", rated_kg="80")
    over = found(by_hand("90", dolly))["over_rating"]
    assert over.says.startswith("dolly bears up to 90.0 kg and is marked for 80 kg")
    unmarked = found(by_hand("90", dolly.model_copy(update={"rated_kg": None})))["rating_unknown"]
    assert unmarked.field == "lift L1, support d, rated_kg"
    assert "refused until somebody does" in unmarked.says


def test_a_load_that_tips_and_a_lift_with_too_few_places() -> None:
    tips = by_hand("20")
    moved = [one.model_copy(update={"cg_x_mm": "1200"}) for one in tips.lifts]
    assert set(found(tips.model_copy(update={"lifts": moved}))) == {"lift_tips"}
    few = found(by_hand("20", must=4))["lift_places_few"]
    assert "task T1 must have 4 people and the lift has places for 2" in few.says
    assert "`guides: 2`" in few.remedy
    assert found(by_hand("20", guides=2, must=4)) == {}


def test_carried_farther_than_the_figures_hold_for() -> None:
    """HSE L23 and INDG143: to about 10 m without a rest; a machine has no such end."""
    made = by_hand("20")
    (lift,) = made.lifts

    def along(length_m: str, kind: Literal["lifter", "dolly"] = "lifter") -> set[str]:
        borne = [one.model_copy(update={"kind": kind, "rated_kg": "200"}) for one in lift.supports]
        way = lift.model_copy(update={"path": LiftPath(length_m=length_m), "supports": borne})
        return set(found(made.model_copy(update={"lifts": [way]})))

    assert along("10") == set()
    assert along("10.5") == {"carried_far"}
    assert "carried_far" not in along("10.5", "dolly")


def cuts(stock: str, *pieces: tuple[int, str], unit: str = "mm", **more: Any) -> Plan:
    gaps = more.pop("gaps", [None] * len(pieces))
    listed = [
        {"n": n, "length": length, "to": f"piece {length}", "gap": gap}
        for (n, length), gap in zip(pieces, gaps, strict=True)
    ]
    body = {"id": "C1", "what": "hose", "unit": unit, "stock_length": stock, "pieces": listed} | more
    return plan(task("T1", "Look"), cuts=[CutList.model_validate(body)])


C01 = ((2, "620"), (3, "480"), (3, "350"), (2, "270"))


def test_longest_first_wastes_a_length_and_the_better_way_is_told() -> None:
    """K3 of the trade notes: 4270 mm out of 1500 mm lengths, longest first 4, best 3."""
    told = found(cuts("1500", *C01))["longest_first_wastes"]
    assert "it takes 4 lengths of 1500 mm; 3 do" in told.says
    way = told.remedy.removeprefix("Cut ").split(", and")[0]
    lengths: list[int] = []
    for bar in way.split(", "):
        times, _, rest = bar.rpartition(" times ")
        pieces = [int(piece) for piece in rest.split(" + ")]
        assert sum(pieces) <= 1500
        lengths += pieces * int(times or 1)
    assert sorted(lengths) == sorted(int(length) for n, length in C01 for _ in range(n))
    assert found(cuts("1500", *C01, stock_count=3)) == {}, "the plan has settled on the three"


def test_stock_that_does_not_do() -> None:
    """K4: 120 3/4 in out of 60 in lengths want 3."""
    pieces = ((2, "9 5/8"), (2, "12 7/16"), (3, "6 3/16"), (2, "21 11/32"), (1, "15 3/8"))
    told = found(cuts("60", *pieces, unit="in", stock_count=2))["stock_too_little"]
    assert "3 lengths of 60 in are needed" in told.says and "Order 1 more" in told.remedy
    assert found(cuts("72", *pieces, unit="in", stock_count=2)) == {}


def test_a_hose_that_is_cut_for_another_gap() -> None:
    """H8: gap 7 3/8 and twice 1 1/8 in make 9 5/8 in."""
    ends = {"bore": "5/8", "push": "1 1/8"}
    assert found(cuts("72", (2, "9 5/8"), unit="in", hose=ends, gaps=["7 3/8"])) == {}
    told = found(cuts("72", (2, "9 3/8"), unit="in", hose=ends, gaps=["7 3/8"]))["hose_cut_unlike_gap"]
    assert "which make 9 5/8 in" in told.says
    assert found(cuts("72", (2, "9 3/4"), unit="in", plus="1/8", hose=ends, gaps=["7 3/8"])) == {}


def test_a_hose_that_does_not_go_on_far_enough() -> None:
    """H8: 1.5 times a bore of 38 mm is 57 mm; at least 25 mm (common practice). A stop decides instead."""
    told = found(cuts("1000", (1, "410"), hose={"bore": "38", "push": "30"}))["hose_short_on_spigot"]
    assert "wants 57 mm" in told.says
    assert (
        "wants 25 mm"
        in found(cuts("1000", (1, "410"), hose={"bore": "8", "push": "20"}))["hose_short_on_spigot"].says
    )
    assert found(cuts("1000", (1, "410"), hose={"bore": "38", "push": "30", "to_a_stop": True})) == {}


def wire(size: str, amps: str, fuse: str | None, tail: str = "0.5", added: str = "0.5") -> Plan:
    one = Wire(
        id="X1", circuit="Fan", size_mm2=size, donor_tail_m=tail, added_m=added, current_a=amps, fuse_a=fuse
    )
    return plan(task("T1", "Look"), wires=[one])


def test_fuses_against_load_and_wire() -> None:
    """W15: 22 A / 0.8 = 27.5, so 30 A. W17: 12 AWG (3.31 mm²) 41 A in free air, half of it in a loom; 10 AWG 55 A."""
    over = found(wire("4", "17", "25"))["fuse_over_wire"]
    assert "25 A does not protect 4 mm², which bears 20.5 A" in over.says
    assert found(wire("6", "17", "25")) == {}
    small = found(wire("6", "22", "25"))["fuse_too_small"]
    assert "30 A" in small.remedy
    assert set(found(wire("6", "17", None))) == {"wire_without_fuse"}


@pytest.mark.parametrize(
    ("size", "amps", "fuse", "words"),
    [
        # Chassis chart halved: 14 AWG (2.08 mm²) 32 A, 18 AWG (0.82) 16 A, 20 AWG (0.518) 11 A, the least it has.
        ("2.5", "40", "60", "60 A does not protect 2.5 mm², which bears 16 A"),
        ("1", "35", "40", "40 A does not protect 1 mm², which bears 8 A"),
        ("0.35", "6", "30", "bears less than 5.5 A, the least of the chart,"),
        ("0.5", "6", "30", "bears less than 5.5 A, the least of the chart,"),
        ("0.5", "4", "5", None),
    ],
)
def test_a_fuse_is_held_against_its_wire_whatever_the_load(
    size: str, amps: str, fuse: str, words: str | None
) -> None:
    """40 A is more than any blade fuse carries, 0.5 mm² is less than the chart's least: either way the wire burns."""
    told = found(wire(size, amps, fuse, tail="0.1", added="0.1"))
    assert "fuse_over_wire" in told if words else told == {}
    assert words is None or words in told["fuse_over_wire"].says


def test_a_fuse_on_a_cable_larger_than_the_chart_is_said_not_to_be_judged() -> None:
    assert set(found(wire("10", "60", "200"))) == {"fuse_not_judged"}
    assert set(found(wire("10", "60", "70"))) == {"fuse_not_judged", "fuse_too_small"}  # 60/0.8 = 75
    assert found(wire("35", "180", None)) == {}, "a starter's main cable has none"


def test_volts_lost_on_the_way() -> None:
    """W13: 22 A over a 6.8 m loop of 2.5 mm² class 5 lose 1.194 V, of 6 mm² 0.494 V (4.1 %)."""
    told = found(wire("2.5", "22", None, "1.4", "2.0"))["volts_lost"]
    assert "lose 1.19 V in 2.5 mm², 9.9 % of 12 V" in told.says
    assert "volts_lost" not in found(wire("6", "22", "30", "1.4", "2.0"))


def test_a_belt_of_another_length() -> None:
    """B6: three pulleys make 951.8 mm."""
    pulleys = [
        Pulley(name="crank", x_mm="0", y_mm="0", r_mm="70", side="ribs"),
        Pulley(name="alternator", x_mm="210", y_mm="40", r_mm="30", side="ribs"),
        Pulley(name="pump", x_mm="120", y_mm="190", r_mm="55", side="ribs"),
    ]
    belt = Belt(id="B1", marking="6PK980", ribs=5, pulleys=pulleys)
    told = found(plan(task("T1", "Look"), belts=[belt]))
    assert "951.8 mm and 6PK980 is 980 mm" in told["belt_length"].says
    assert "6 ribs and the plan says 5" in told["belt_ribs"].says
    right = belt.model_copy(update={"marking": "6PK952", "ribs": 6})
    assert found(plan(task("T1", "Look"), belts=[right])) == {}


@pytest.mark.parametrize(
    ("measure", "code"),
    [
        ({"say": "Gap", "unit": "mm"}, "measure_unlimited"),
        ({"say": "Gap", "unit": "mm", "nominal": "125", "low": "12", "high": "130"}, "measure_limit_far"),
        ({"say": "Diagonal", "unit": "m", "nominal": "2487", "low": "2485", "high": "2489"}, "measure_far"),
    ],
)
def test_a_measure_that_judges_nothing_or_has_slipped(measure: dict[str, str], code: str) -> None:
    step = Step.model_validate({"id": "s1", "say": "Measure", "kind": "measure", "measure": measure})
    told = found(plan(task("T1", step)))
    assert set(told) == {code}
    assert told[code].field.startswith("task T1, step 1, measure")


def _of_file(root: Path, name: str) -> set[tuple[str, str]]:
    reading = read(root.joinpath(name).read_text(encoding="utf-8"))
    assert reading.plan is not None
    located = reading.located(doubts(reading.plan, {}))
    assert all(one.line for one in located)
    return {(one.code, one.field) for one in located}


def test_the_outline_s_doubts(pytestconfig: pytest.Config) -> None:
    """Q6 of the planted faults, and what else is doubtful: thread locker's K not said, machines without a marking."""
    told = _of_file(pytestconfig.rootpath, "tests/planfile/fixtures/outline-flawed.plan.yaml")
    assert ("longest_first_wastes", "cut list C01") in told
    assert ("over_proof_if_slippery", "spec J05, target, torque") in told
    assert {code for code, _ in told} == {"longest_first_wastes", "over_proof_if_slippery", "rating_unknown"}


def test_what_is_left_to_doubt_in_the_demo_is_there_to_be_seen(pytestconfig: pytest.Config) -> None:
    """L7H is kept to compare and is refused (84 kg by three: 1/2 of 75 is 37.5); L7's front is not for everybody (R21)."""
    told = _of_file(pytestconfig.rootpath, "demo_fixtures/quillback-two.plan.yaml")
    assert told == {("lift_for_few", "lift L7"), ("lift_refused", "lift L7H")}
