"""What would make a lift work, making it so, who stands where, who lets go (R18, R20, R21).

Shares by moments, worked out in the comments; team figures of HSE L23 par. 120: two people 2/3 of the sum, three 1/2,
so 33.3 and 37.5 kg of 25, 21.3 and 24 of 16.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from rules import world as w
from rules.world import World
from yokemate.planfile.model import LiftPlan
from yokemate.rules.frame import Facts
from yokemate.rules.lift_let_go import let_go_words
from yokemate.rules.lift_shares import work_out_shares
from yokemate.rules.lift_verdict import judge_lift
from yokemate.rules.lift_ways import Way, fewest_words, lightest_words, ways
from yokemate.rules.refusals import REFUSALS
from yokemate.rules.rows import Lift

NewWorld = Callable[..., World]


def tried(plan: LiftPlan) -> list[Way]:
    shares, unfit, _ = work_out_shares(plan)
    assert unfit is None
    return ways(plan, judge_lift(plan, shares))


def by_three(**more: Any) -> LiftPlan:
    """The body shell by hand: 84 kg, one in front, two behind 2184 mm of it, its centre 1196 mm behind the front."""
    return w.lift(
        mass_kg="84", cg_x_mm="1196", cg_y_mm="0", outline_mm=[], guides=0,
        supports=[
            {"id": "front", "say": "front", "kind": "lifter", "x_mm": "0", "y_mm": "0"},
            {"id": "left", "say": "rear left", "kind": "lifter", "x_mm": "2184", "y_mm": "600"},
            {"id": "right", "say": "rear right", "kind": "lifter", "x_mm": "2184", "y_mm": "-600"},
        ],
        **more,
    )  # fmt: skip


def test_every_way_makes_it_work_and_says_the_shares_that_it_gives() -> None:
    """R20: each is judged again from its own plan; the figures in its sentence are the shares worked out there."""
    found = tried(by_three())
    assert [one.kind for one in found] == ["machine"] * 4
    for one in found:
        supports = [
            s.model_copy(update={"rated_kg": one.mark_kg}) if s.id == one.changed else s
            for s in one.plan.supports
        ]
        assert work_out_shares(one.plan)[1] == "rating_unknown", "nobody has read its marking yet"
        marked = one.plan.model_copy(update={"supports": supports})
        shares, unfit, _ = work_out_shares(marked)
        assert unfit is None and shares == one.shares
        assert {v.figure_kg: v.verdict for v in judge_lift(marked, shares)}["25"] == "within guidance"
        assert f"bears {one.mark_kg} kg at worst; it must be marked for that" in one.says


def test_a_crane_for_both_ends_of_the_tail_takes_more_than_half() -> None:
    """Moments about the front: the crane 1690 mm behind it bears 84 × 1196/1690 = 59.4 kg, the front 24.6, below 25; an
    eighth of the way (988 mm) less far in, at 1810, the front has 28.5.
    """
    one = next(one for one in tried(by_three()) if one.id == "crane:left,right:1690:0")
    assert one.does == "Engine crane instead of the people at “rear left” and “rear right”, 494 mm further in"
    shares = {share.support: Fraction(share.nominal_kg) for share in one.shares}
    assert shares == {"front": Fraction("24.6"), "crane-1": Fraction("59.4")}
    assert one.plan.guides == 2, "who is relieved guides"


def test_an_existing_machine_is_moved_in_as_little_as_will_do_for_sixteen_kg_people() -> None:
    """84 kg, two in front, crane at 1680, centre at 1040: 32 kg for two of 16 (21.3). Eighths of 640 mm: at 1440 the front
    bears 84 × 400/1440 = 23.3, at 1360 84 × 320/1360 = 19.8.
    """
    supports = [
        {
            "id": "crane",
            "say": "Crane behind",
            "kind": "crane",
            "x_mm": "1680",
            "y_mm": "0",
            "rated_kg": "500",
        },
        {"id": "left", "say": "front left", "kind": "lifter", "x_mm": "0", "y_mm": "-600"},
        {"id": "right", "say": "front right", "kind": "lifter", "x_mm": "0", "y_mm": "600"},
    ]
    first = tried(w.lift(mass_kg="84", cg_x_mm="1040", cg_y_mm="0", supports=supports))[0]
    assert (first.id, first.figure_kg, first.mark_kg) == ("move:crane:1360:0", "16", None)
    assert first.does == "Move “crane behind” in by 320 mm"
    assert "is marked for 500 kg" in first.says


def test_one_more_person_where_three_do_and_none_where_they_do_not() -> None:
    """36 kg: two may bear 33.3, three 37.5, 12 each with the third at the middle. 38 kg is above that: no person helps."""
    (person,) = [one for one in tried(w.lift(mass_kg="36")) if one.kind == "person"]
    assert {share.worst_kg for share in person.shares} == {"12.0"}
    assert person.does.startswith("One more person beside “front”")
    assert [one.kind for one in tried(w.lift(mass_kg="38")) if one.kind == "person"] == []


def test_machines_bear_it_all_where_nothing_less_will_do() -> None:
    """66 kg by two whose hands are far out and low: a crane over the centre bears it and both guide."""
    phase = {"say": "off", "supports": ["front", "rear"], "reach_cm": "60", "hands_height_cm": "10"}
    found = tried(w.lift(mass_kg="66", phases=[phase]))
    last = found[-1]
    assert last.does == "Engine crane over the centre of gravity, and nobody lifts"
    assert "Machines bear it all; people guide." in last.says
    assert (last.mark_kg, last.plan.guides) == ("66.0", 2)


def test_fewest_people_and_how_much_would_have_to_come_off() -> None:
    """L23: 36 kg want three of 25 kg (37.5); 38 none. Two of 25 lift up to 33.3 kg, so 33 in whole kilograms."""
    for mass, words in (
        ("36", "want 3 people of the 25 kg figure"),
        ("38", "want a machine: three people of the 25 kg"),
    ):
        plan = w.lift(mass_kg=mass)
        verdicts = judge_lift(plan, work_out_shares(plan)[0])
        assert words in (fewest_words(verdicts[0]) or "")
    assert lightest_words(plan, verdicts) == (
        "Up to 33 kg it is within guidance for people of the 25 kg figure: 5 kg would have to come off."
    )  # fmt: skip
    assert tried(w.lift(mass_kg="20")) == [], "within guidance for both figures: nothing to change"


@pytest.mark.parametrize("moved", [{"mass_kg": None}, {"cg_x_mm": None}])
def test_nothing_is_tried_while_mass_or_centre_is_unknown(moved: dict[str, None]) -> None:
    plan = w.lift(**moved)  # type: ignore[arg-type]
    assert ways(plan, judge_lift(plan, [])) == []


def test_who_lets_go() -> None:
    """Two ends: it tips. At four corners of 80 kg, 2000 by 1000 mm, centre at 900, 400: without one of the near corners it
    tips, without a far one it rests on three (let_go's own example, by balance of moments).
    """
    assert let_go_words(w.lift()) == [
        "Whoever lets go at “front” or “rear”: the others can't balance it, it tips."
    ]
    corners = [("a", 0, 0), ("b", 2000, 0), ("c", 2000, 1000), ("d", 0, 1000)]
    plan = w.lift(
        mass_kg="80", cg_x_mm="900", cg_y_mm="400",
        supports=[{"id": n, "say": n, "kind": "lifter", "x_mm": str(x), "y_mm": str(y)} for n, x, y in corners],
    )  # fmt: skip
    said = let_go_words(plan)
    assert said[0] == "Whoever lets go at “a” or “b”: the others can't balance it, it tips."
    # without c, on a, b, d: b 80·900/2000 = 36, d 80·400/1000 = 32, a 12; without d, on a, b, c: c 32, a 80·1100/2000 = 44, b 4
    assert said[1:] == [
        "Whoever lets go at “c”: “b” bears 36.0 kg for that moment. Over twice the figure for people of 16 kg.",
        "Whoever lets go at “d”: “a” bears 44.0 kg for that moment. Over twice the figure for people of 16 kg.",
    ]
    heavy = plan.model_copy(update={"mass_kg": "100"})
    assert let_go_words(heavy)[2].endswith(
        "bears 55.0 kg for that moment. Over twice the figure for one person."
    )


def test_who_lets_go_with_the_centre_uncertain_and_a_machine_that_bears_most() -> None:
    """R20. Three people and a stand at the corners of 2000 by 1000 mm, 60 kg, centre at 900, 400. Without d, on the stand at
    (0, 0), b (2000, 0) and c (2000, 1000): c 60 × .4 = 24, the stand 60 × 1100/2000 = 33, b 3; the stand bears most, of the
    people c. Without c, on the stand, b and d: b 60 × 900/2000 = 27, d 24. The centre 80 mm off: b 60 × 980/2000 = 29.4, and
    without d it may lie beyond the line from the stand to c (450 mm across at 900 along, 50 further), so that it may tip.
    Hands above the shoulder allow 10 and 7 kg (L23): 29.4 is over twice both, and at 90 cm over twice neither (25, 16).
    """
    places = [("stand", 0, 0), ("b", 2000, 0), ("c", 2000, 1000), ("d", 0, 1000)]
    supports = [
        {"id": n, "say": n, "kind": "stand" if n == "stand" else "lifter", "x_mm": str(x), "y_mm": str(y), "rated_kg": "500"}
        for n, x, y in places
    ]  # fmt: skip
    named = [n for n, _x, _y in places]

    def said(off_mm: str, *hands: str) -> list[str]:
        phases = [{"say": f"to {at} cm", "supports": named, "hands_height_cm": at} for at in hands]
        plan = w.lift(
            mass_kg="60",
            cg_x_mm="900",
            cg_y_mm="400",
            cg_plus_minus_mm=off_mm,
            supports=supports,
            phases=phases,
        )
        return let_go_words(plan)

    for_b, for_c, for_d = said("0", "90")
    assert for_b == "Whoever lets go at “b”: the others can't balance it, it tips."
    assert for_c == "Whoever lets go at “c”: “b” bears 27.0 kg for that moment."
    assert for_d == "Whoever lets go at “d”: “c” bears 24.0 kg for that moment."
    for_two, for_c = said("80", "90")
    assert for_two == "Whoever lets go at “b” or “d”: the others can't balance it, it tips."
    assert for_c == "Whoever lets go at “c”: “b” bears 29.4 kg for that moment."
    assert said("80", "90", "160")[1] == f"{for_c} Over twice the figure for one person.", "the worst phase"


def test_a_machine_that_would_bear_more_than_its_marking_when_somebody_lets_go() -> None:
    """R20: a marking holds for a moment too. 50 kg between a hook and one person 1000 mm apart, 40 mm beside their line, and
    one more 500 mm to that side: who bears 50 × 40/500 = 4, the other two 23 each. Without that one they bear 25 each.
    """
    places = [("front", "lifter", 0, 0), ("hook", "crane", 1000, 0), ("side", "lifter", 500, 500)]

    def said(rated_kg: str) -> list[str]:
        supports = [
            {"id": n, "say": n, "kind": kind, "x_mm": str(x), "y_mm": str(y), "rated_kg": rated_kg}
            for n, kind, x, y in places
        ]
        plan = w.lift(mass_kg="50", cg_x_mm="500", cg_y_mm="40", supports=supports)
        shares, unfit, _by = work_out_shares(plan)
        assert unfit is None
        assert [(one.support, one.worst_kg) for one in shares] == [
            ("front", "23.0"),
            ("hook", "23.0"),
            ("side", "4.0"),
        ]
        return let_go_words(plan)

    others = "Whoever lets go at “side”: “front” bears 25.0 kg for that moment."
    assert said("25")[1] == others
    assert said("24")[1] == f"{others} “hook” bears 25.0 kg, and is marked for 24 kg."


def test_nine_supports_are_told_of_as_that() -> None:
    """R20: shares are worked out for eight at most; a ninth is not said to stand where another does alone."""
    supports = [
        {"id": f"p{n}", "say": f"place {n}", "kind": "lifter", "x_mm": str(n * 100), "y_mm": "0"}
        for n in range(9)
    ]
    assert work_out_shares(w.lift(supports=supports))[1] == "supports_unclear"
    assert "more than eight" in REFUSALS["supports_unclear"].says


def test_what_the_figures_leave_out_stands_on_the_lift(new_world: NewWorld) -> None:
    """R20: steps and a long way by hand are told to everybody who reads the lift, not only when the plan is loaded."""
    path = {"length_m": "12", "steps": 3}
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", path=path), w.lift("L2")]))
    said = world.view("bram", "lift", lift="L1").unjudged
    assert [words.split(",")[0] for words in said] == ["12 m by hand", "3 steps on the way"]
    assert said[0].endswith("Plan a place to set it down on the way, or put it on wheels.")
    assert world.view("bram", "lift", lift="L2").unjudged == []


def test_a_machine_left_alone_says_its_marking() -> None:
    """R20: 50 kg, a hook 40 mm beside the centre and one person 400 mm to the other side: the hook bears 50 × 400/440 = 45.5,
    left alone all 50."""
    supports = [
        {"id": "hook", "say": "hook", "kind": "crane", "x_mm": "0", "y_mm": "0", "rated_kg": "48"},
        {"id": "hand", "say": "hand", "kind": "lifter", "x_mm": "440", "y_mm": "0"},
    ]
    plan = w.lift(mass_kg="50", cg_x_mm="40", cg_y_mm="0", supports=supports)
    assert work_out_shares(plan)[1] is None
    assert let_go_words(plan) == [
        "Whoever lets go at “hand”: “hook” bears 50.0 kg for that moment. It is marked for 48 kg."
    ]


def test_a_lift_is_rearranged_called_and_put_back(new_world: NewWorld) -> None:
    """R20: 80 kg is refused whatever is said; with the crane that was shown to work it is called; the plan's places return."""
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="80")]))
    soon = world.now_ms + w.HOUR
    world.refused("ines", "lift.call", "over_guidance", lift="L1", when_ms=soon)
    shown = world.view("ines", "lift", lift="L1")
    way = shown.ways[0]
    assert (way.kind, way.mark_kg, shown.rearranged) == ("machine", "58.0", False)
    wanted = {"lift": "L1", "way": way.id}
    assert world.refused("ines", "lift.rearrange", "bad_input", **wanted).params["field"] == "rated_kg"
    world.refused("ines", "lift.rearrange", "over_rating", **wanted, rated_kg="57.9")
    world.refused("bram", "lift.rearrange", "role", **wanted, rated_kg="500")
    world.refused("ines", "lift.rearrange", "way_gone", lift="L1", way="crane:front:1:1", rated_kg="500")
    world.do("ines", "lift.rearrange", **wanted, rated_kg="500")
    after = world.view("ines", "lift", lift="L1")
    assert after.rearranged and after.verdicts[0].verdict == "within guidance"
    assert [(one.kind, one.rated_kg) for one in after.supports] == [("lifter", None), ("crane", "500")]
    assert after.people == 2, "who is relieved guides"

    world.do("ines", "lift.rearrange", lift="L1", way="as_planned")
    assert world.get(Lift, "L1").plan == w.lift("L1", mass_kg="80")
    world.do("ines", "lift.rearrange", **wanted, rated_kg="500")
    world.do("ines", "lift.call", lift="L1", when_ms=soon + w.HOUR)
    world.refused("ines", "lift.rearrange", "not_in_state", lift="L1", way="as_planned")
    assert world.view("ines", "lift", lift="L1").ways == []


def test_a_machine_without_a_marking_lifts_nothing_until_somebody_says_it(new_world: NewWorld) -> None:
    """R20, 5-lifts 8: the marking decides. 3000 kg on one crane of unknown marking is refused, not within guidance; said on the
    lift's screen by who may call it, no less than it bears, it can be called, and the plan's own words return it to unknown.
    """
    hook = {"id": "hook", "say": "Gantry", "kind": "crane", "x_mm": "500", "y_mm": "0"}
    stand = {"id": "stand", "say": "Stand", "kind": "stand", "x_mm": "0", "y_mm": "0"}
    phases = [
        {"say": "Up", "supports": ["hook"]}
    ]  # nothing rests on the stand: its marking is nobody's business
    plan = w.lift("L1", mass_kg="3000", supports=[hook, stand], phases=phases, guides=2)
    world = new_world(w.plan(w.task("T1"), lifts=[plan]))
    soon = world.now_ms + w.HOUR
    assert world.get(Lift, "L1").verdicts == []
    world.refused("ines", "lift.call", "rating_unknown", lift="L1", when_ms=soon)
    (way,) = world.view("ines", "lift", lift="L1").ways
    assert (way.kind, way.does, way.mark_kg) == ("marking", "Say what “gantry” is marked for", "3000.0")
    wanted = {"lift": "L1", "way": way.id}
    assert world.refused("ines", "lift.rearrange", "bad_input", **wanted).params["field"] == "rated_kg"
    world.refused("ines", "lift.rearrange", "over_rating", **wanted, rated_kg="2999")
    world.do("ines", "lift.rearrange", **wanted, rated_kg="3200")
    after = world.get(Lift, "L1")
    assert (after.unfit, after.plan.supports[0].rated_kg, after.plan.method) == (None, "3200", plan.method)
    assert {one.verdict for one in after.verdicts} == {"within guidance"}
    world.do("ines", "lift.rearrange", lift="L1", way="as_planned")
    world.refused("ines", "lift.call", "rating_unknown", lift="L1", when_ms=soon)
    world.do("ines", "lift.rearrange", **wanted, rated_kg="3200")
    world.do("ines", "lift.call", lift="L1", when_ms=soon + w.HOUR)


def test_the_load_stays_as_it_was_weighed_when_the_plan_s_places_return(new_world: NewWorld) -> None:
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="20")]))
    world.do(
        "bram", "lift.weigh", lift="L1", mass_kg="40", cg_x_mm="500", cg_y_mm="0", how_known_text="scales"
    )
    way = world.view("ines", "lift", lift="L1").ways[0]
    world.do("ines", "lift.rearrange", lift="L1", way=way.id, rated_kg="500")
    world.do("ines", "lift.rearrange", lift="L1", way="as_planned")
    row = world.get(Lift, "L1")
    assert (row.plan.mass_kg, len(row.plan.supports), row.verdicts[0].verdict) == ("40", 2, "above guidance")


def test_only_who_may_call_it_is_shown_what_would_make_it_work(new_world: NewWorld) -> None:
    """R21: and none of it depends on anybody's own figure."""
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="40")]))
    plain = world.view("ines", "lift", lift="L1")
    world.facts = replace(world.facts, suits={("ines", "front"): False}, own_kg=Fraction(3))
    assert world.view("ines", "lift", lift="L1") == plain
    assert len(plain.ways) == 2 and plain.hints
    assert world.view("bram", "lift", lift="L1").ways == []


def comes(world: World, *people: str) -> None:
    for one in people:
        world.do(one, "lift.answer", lift="L1", will_come=True)


def proposed(world: World, who: str, own_kg: int | None) -> list[str]:
    world.facts = Facts(own_kg=None if own_kg is None else Fraction(own_kg))
    view = world.view(who, "lift", lift="L1")
    return [place.place for place in view.places if place.proposed]


def test_places_are_proposed_so_that_the_worst_loaded_bears_as_little_as_can_be(new_world: NewWorld) -> None:
    """R21: 30 kg with its centre 600 mm from the front: front 12, rear 18. Who bears less than others takes the front; a
    proposal hangs on nobody else's own figure, for none is asked.
    """
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="30", cg_x_mm="600")]))
    world.do("ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR)
    assert proposed(world, "priya", 16) == [], "first she says whether she comes"
    comes(world, "aled", "priya")
    assert proposed(world, "priya", 16) == ["front"]
    assert proposed(world, "aled", 20) == ["front"]
    assert proposed(world, "aled", 40) == ["rear"], "40 against 25: the heavier place is lighter for him"
    assert proposed(world, "priya", 10) == [], "neither place is within her own figure"
    assert proposed(world, "sofia", None) == [], "she has not said that she comes"
    world.do("aled", "lift.take_place", lift="L1", place="front")
    assert proposed(world, "priya", None) == ["rear"]
    world.do("priya", "lift.take_place", lift="L1", place="rear")
    comes(world, "sofia")
    assert proposed(world, "sofia", None) == [], "nothing is free"


def test_more_come_than_places_are_free(new_world: NewWorld) -> None:
    """Three come for two places: everybody counts among those who take one, for who the others are strong enough for a
    place is not known (R21); the first takes it.
    """
    world = new_world(w.plan(w.task("T1"), lifts=[w.lift("L1", mass_kg="30", cg_x_mm="600")]))
    world.do("ines", "lift.call", lift="L1", when_ms=world.now_ms + w.HOUR)
    comes(world, "aled", "priya", "sofia")
    assert [proposed(world, who, None) for who in ("aled", "priya", "sofia")] == [
        ["front"],
        ["rear"],
        ["rear"],
    ]
    assert proposed(world, "sofia", 60) == ["rear"], "who bears more is wanted where the load is"
