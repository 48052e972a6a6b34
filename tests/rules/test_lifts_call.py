"""From plan to crew: R18, R20 (shares and what makes a lift unfit), R21, R30."""

from __future__ import annotations

from typing import Any

import pytest

from rules.lift_yard import CREW, Yard, lift_plan, lift_row
from rules.torque_shop import task_row
from yokemate.planfile.model import LiftPhase, LiftPlan, Step, Support
from yokemate.rules.lift_shares import SHARES_BY, work_out_shares, worst_share_kg
from yokemate.rules.rows import Lift
from yokemate.rules.rows.lifts import Share


def two(mass: str, cg: str, **more: Any) -> LiftPlan:
    """A load 1340 mm long held at its two ends by one person each."""
    supports = [
        Support(id="near", say="near", kind="lifter", x_mm="0", y_mm="0"),
        Support(id="far", say="far", kind="lifter", x_mm="1340", y_mm="0"),
    ]
    return lift_plan(**{"mass_kg": mass, "cg_x_mm": cg, "cg_plus_minus_mm": "0", "supports": supports} | more)


def shares(plan: LiftPlan) -> dict[str, tuple[str, str]]:
    return {share.support: (share.nominal_kg, share.worst_kg) for share in work_out_shares(plan)[0]}


def test_r20_shares_of_two_by_moments() -> None:
    """186 kg, centre 520 of 1340 mm: far end 186 × 520 / 1340 = 72.18, near end the rest (by hand)."""
    assert shares(two("186", "520")) == {"near": ("113.8", "113.8"), "far": ("72.2", "72.2")}


def test_r20_shares_of_three_by_moments() -> None:
    """Crane 84 × 800 / 1300 = 51.69; what is left over two in front, 16.15 each (by hand)."""
    plan = lift_plan(cg_plus_minus_mm="0")
    assert shares(plan) == {"fl": ("16.2", "16.2"), "fr": ("16.2", "16.2"), "hook": ("51.7", "51.7")}


def test_r20_the_worst_share_counts_where_the_load_is_uncertain() -> None:
    """Centre ± 20 mm, mass ± 4 kg: far at worst 190 × 540 / 1340 = 76.57, near 190 × 840 / 1340 = 119.10."""
    got = shares(two("186", "520", cg_plus_minus_mm="20", mass_plus_minus_kg="4"))
    assert got == {"near": ("113.8", "119.1"), "far": ("72.2", "76.6")}


def test_r20_a_centre_known_to_so_many_millimetres_may_be_off_in_any_one_direction() -> None:
    """A circle, not a box. The front left share falls by 84/2600 per mm back and 84/1000 per mm to the right:
    16.154 + 20 × 84 × √(1/2600² + 1/1000²) = 17.954 (by hand; a box would give 18.48)."""
    assert shares(lift_plan())["fl"] == ("16.2", "18.0")


def test_r20_the_worst_phase_is_found_by_number_not_by_letter() -> None:
    borne = [
        Share(support="a", phase=p, nominal_kg=kg, worst_kg=kg) for p, kg in (("Up", "9.8"), ("Down", "10.2"))
    ]
    assert worst_share_kg(borne, "a") == "10.2"


def test_r20_shares_are_worked_out_for_each_phase() -> None:
    """The crane takes part in the second phase only; the worst of a place is its worst phase."""
    plan = lift_plan(
        cg_x_mm="200", cg_plus_minus_mm="0",
        supports=[
            Support(id="fl", say="front", kind="lifter", x_mm="0", y_mm="0"),
            Support(id="mid", say="middle", kind="crane", x_mm="400", y_mm="0"),
            Support(id="end", say="end", kind="stand", x_mm="1000", y_mm="0"),
        ],
        phases=[LiftPhase(say="Up", supports=["fl", "end"]), LiftPhase(say="Over", supports=["fl", "mid"])],
    )  # fmt: skip
    got = [(s.phase, s.support, s.nominal_kg) for s in work_out_shares(plan)[0]]
    assert got == [
        ("Up", "fl", "67.2"),
        ("Up", "end", "16.8"),
        ("Over", "fl", "42.0"),
        ("Over", "mid", "42.0"),
    ]
    assert worst_share_kg(work_out_shares(plan)[0], "fl") == "67.2"
    assert worst_share_kg(work_out_shares(plan)[0], "guide-1") is None


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"mass_kg": None}, "mass_unknown"),
        ({"mass_plus_minus_kg": "84"}, "mass_unknown"),
        ({"cg_x_mm": None}, "cg_unknown"),
        ({"cg_y_mm": None}, "cg_unknown"),
        ({"cg_x_mm": "1400"}, "tips"),
        ({"cg_x_mm": "10", "cg_plus_minus_mm": "20"}, "tips"),
        ({"cg_y_mm": "600"}, "tips"),
    ],
)
def test_r20_unfit_lifts_cannot_be_called(changes: dict[str, Any], code: str) -> None:
    """Mass or centre unknown, or it tips: refused, by whomever."""
    yard = Yard(plan=lift_plan(**changes))
    assert yard.lift().unfit == code
    yard.no(code, "ines", "call", when_ms=yard.now_ms + 3_600_000)


def test_r20_a_rating_exceeded_is_refused_and_one_just_met_is_not() -> None:
    """The crane bears 51.69 kg; with 20 mm of doubt 84 × 820 / 1300 = 52.98."""
    hook = {"id": "hook", "say": "rear", "kind": "crane", "x_mm": "1300", "y_mm": "0"}
    plan = lift_plan()

    def marked(kg: str) -> str | None:
        supports = [*plan.supports[:2], Support(**hook, rated_kg=kg)]
        return work_out_shares(plan.model_copy(update={"supports": supports}))[1]

    assert marked("52.9") == "over_rating"
    assert marked("53") is None


def test_r20_two_supports_at_one_place_are_a_fault_of_the_plan() -> None:
    same = Support(id="same", say="same", kind="lifter", x_mm="0", y_mm="-500")
    assert work_out_shares(lift_plan(supports=[*lift_plan().supports, same]))[1] == "supports_unclear"


def test_r2_shares_say_what_worked_them_out() -> None:
    assert lift_row().shares_by == SHARES_BY == "statics 3"


def test_r18_a_lift_moves_as_its_places_fill() -> None:
    yard = Yard()
    assert yard.lift().state == "drafted"
    yard.called()
    assert yard.lift().state == "called"
    for place, who in CREW.items():
        assert yard.lift().state == "called"
        yard.act(who, "take_place", place=place)
    assert yard.lift().state == "crewed"
    assert yard.lift().answers["aled"] == "will_come"


def test_r30_a_lead_calls_a_lift_and_stands_it_down_and_no_deputy() -> None:
    """R30: both are *lead only*; R19: the caller stands it down too."""
    yard = Yard()
    deputy = yard.state.rows["member"]["bram"].model_copy(update={"deputy_until_ms": yard.now_ms + 10**9})
    yard.state.rows["member"]["bram"] = deputy
    yard.first.rows["member"]["bram"] = deputy
    yard.no("role", "bram", "call", when_ms=yard.now_ms + 3_600_000)
    yard.no("role", "bram", "rearrange", way="as_planned")
    assert "lift.call" not in yard.view("lift", "bram", lift="L1").can
    yard.crewed()
    assert yard.lift().called_by == "ines"
    yard.act("bram", "stand_down", reason="time")
    assert yard.lift().state == "crewed"
    yard.act("desmond", "stand_down", reason="time")
    assert yard.lift().state == "stood_down"


def test_r32_a_time_that_is_past_is_refused() -> None:
    yard = Yard()
    yard.no("when_past", "ines", "call", when_ms=yard.now_ms - 600_000)


def test_a_lift_that_is_called_is_not_called_again_but_after_standing_down_it_is() -> None:
    """Called anew, everybody is asked anew (R21)."""
    yard = Yard().crewed()
    yard.no("not_in_state", "ines", "call", when_ms=yard.now_ms + 3_600_000)
    yard.act("ines", "stand_down", reason="time")
    assert yard.lift().state == "stood_down"
    yard.act("ines", "call", when_ms=yard.now_ms + 3_600_000)
    assert (yard.lift().state, yard.lift().places, yard.lift().round) == ("called", {}, 2)


@pytest.mark.parametrize(
    ("who", "counts"), [("ines", True), ("desmond", True), ("aled", False), ("kofi", False)]
)
def test_r19_lead_or_caller_stand_it_down(who: str, counts: bool) -> None:
    """Somebody else's word is kept without effect."""
    yard = Yard().crewed()
    yard.act(who, "stand_down", reason="tired")
    assert yard.lift().state == ("stood_down" if counts else "crewed")


def test_r19_nothing_is_stood_down_once_the_load_is_up() -> None:
    yard = Yard().lifting()
    yard.act("ines", "stand_down")
    assert yard.lift().state == "lifting"


def test_r18_no_minor_takes_a_place() -> None:
    yard = Yard().called()
    for place in CREW:
        yard.no("minor_no_place", "kofi", "take_place", place=place)


def test_r18_each_place_has_a_different_lifter() -> None:
    yard = Yard().called()
    yard.act("aled", "take_place", place="fl")
    assert yard.no("place_taken", "bram", "take_place", place="fl")["person"] == "aled"
    yard.no("one_place", "aled", "take_place", place="fr")
    yard.act("aled", "leave_place")
    yard.act("bram", "take_place", place="fl")


def test_r30_a_builder_or_lead_calls_the_words() -> None:
    yard = Yard().called()
    yard.no("caller_skill", "carla", "take_place", place="caller")
    yard.act("ines", "take_place", place="caller")
    yard.act("ines", "leave_place")
    yard.act("desmond", "take_place", place="caller")


def test_places_are_offered_after_the_call_only() -> None:
    yard = Yard()
    yard.no("not_in_state", "aled", "take_place", place="fl")
    yard.no("not_in_state", "aled", "answer", will_come=True)


def could(yard: Yard, who: str = "ines") -> dict[str, list[str]]:
    return {one.place: one.could_stand for one in yard.view("lift", who, lift="L1").places}


def test_r21_who_could_stand_where_goes_by_role_and_age_and_is_the_same_for_all() -> None:
    """R18, R30: no minor (Kofi), no viewer (Vera); builders and leads call. The same for every viewer, also for one whom
    the place does not suit."""
    yard = Yard()
    crew = ["aled", "bram", "carla", "desmond", "ines", "priya", "sofia"]
    before = could(yard)
    assert before == dict.fromkeys(("fl", "fr", "guide-1", "lookout"), crew) | {
        "caller": ["desmond", "ines", "sofia"]
    }
    yard.called()
    yard.act("aled", "take_place", place="fl")
    yard.act("bram", "answer", will_come=False)
    left = [one for one in crew if one not in ("aled", "bram")]
    assert could(yard) == {"fl": []} | dict.fromkeys(("fr", "guide-1", "lookout"), left) | {
        "caller": before["caller"]
    }
    for who in ("priya", "vera"):
        assert could(yard, who) == could(yard)
    yard.act("ines", "stand_down", reason="other")
    assert could(yard) == before, "called again everybody is asked anew"


def test_declining_gives_the_place_up() -> None:
    yard = Yard().crewed()
    yard.act("aled", "answer", will_come=False)
    assert "fl" not in yard.lift().places
    assert (yard.lift().state, yard.lift().answers["aled"]) == ("called", "declined")


def test_leaving_a_place_one_has_not_is_kept() -> None:
    yard = Yard().called()
    entries = yard.act("aled", "leave_place")
    assert [entry.kind for entry in entries] == ["lift.place_left"]


def test_r18_ready_needs_a_place() -> None:
    yard = Yard().called()
    yard.no("no_place", "aled", "ready")


def test_r21_does_not_suit_is_told_to_its_owner_and_changes_nothing() -> None:
    """The place stays free for others, and the refusal leaves no trace in any row."""
    yard = Yard().called()
    before = dict(yard.state.rows["lift"])
    yard.no("does_not_suit", "aled", "take_place", place="fl", suits={("aled", "fl"): False})
    assert yard.state.rows["lift"] == before
    yard.act("bram", "take_place", place="fl")


def test_r21_who_guides_calls_or_looks_out_bears_nothing() -> None:
    """A private limit has no say there, whatever the facts hold."""
    yard = Yard().called()
    for place in ("guide-1", "lookout"):
        yard.act("aled", "take_place", place=place, suits={("aled", place): False})
        yard.act("aled", "leave_place")


@pytest.mark.parametrize("suits", [True, False])
def test_r21_a_yes_to_a_share_cannot_be_typed_by_another(suits: bool) -> None:
    """The lead gets the same answer whether it suits them or not: nothing is learnt by trying."""
    yard = Yard().called()
    params = yard.no(
        "own_yes", "aled", "take_place", place="fl", typed_by="ines", suits={("aled", "fl"): suits}
    )
    assert params == {}
    yard.act("aled", "take_place", place="guide-1", typed_by="ines")


def test_r21_unsuited_and_declined_look_the_same_to_everybody_else() -> None:
    """Two worlds; in one Aled has a limit and meets it, in the other he just declines. What others see is
    equal byte for byte."""
    worlds = []
    for suits in ({("aled", "fl"): False}, {}):
        yard = Yard().called()
        if suits:
            yard.no("does_not_suit", "aled", "take_place", place="fl", suits=suits)
        else:
            yard.now_ms += 60_000
        yard.act("aled", "answer", will_come=False)
        worlds.append([yard.view(name, who, **p).model_dump_json() for who in ("ines", "bram", "desmond")
                       for name, p in (("lifts", {}), ("lift", {"lift": "L1"}))])  # fmt: skip
    assert worlds[0] == worlds[1]


def test_r21_when_a_share_changes_everybody_is_asked_anew() -> None:
    yard = Yard().in_place()
    yard.act("ines", "weigh", mass_kg="88,5", cg_x_mm="820", cg_y_mm="0", how_known_text="two scales")
    lift = yard.lift()
    assert (lift.state, lift.places, lift.ready, lift.roll, lift.answers) == ("called", {}, {}, {}, {})
    assert lift.plan.mass_kg == "88.5"
    assert worst_share_kg(lift.shares, "hook") == "55.8"  # 88.5 × 820 / 1300 = 55.82


def test_r20_weighing_makes_an_unknown_load_known() -> None:
    yard = Yard(plan=lift_plan(mass_kg=None))
    yard.act("desmond", "weigh", mass_kg="84", cg_x_mm="800", cg_y_mm="0", how_known_text="two scales")
    assert yard.lift().unfit is None
    yard.act("ines", "call", when_ms=yard.now_ms + 3_600_000)


def test_r20_a_weighing_that_shows_it_tips_is_kept_and_the_lift_is_refused() -> None:
    yard = Yard().in_place()
    yard.act("ines", "weigh", mass_kg="84", cg_x_mm="1500", cg_y_mm="0", how_known_text="two scales")
    assert (yard.lift().unfit, yard.lift().state) == ("tips", "stood_down")
    yard.no("tips", "ines", "call", when_ms=yard.now_ms + 3_600_000)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("mass_kg", "0"),
        ("mass_kg", "-3"),
        ("mass_kg", "0.05"),
        ("mass_kg", "20001"),
        ("mass_plus_minus_kg", "84"),
        ("cg_plus_minus_mm", "-1"),
    ],
)
def test_r32_a_load_that_cannot_be_is_refused_by_field(field: str, value: str) -> None:
    yard = Yard()
    fields = {"mass_kg": "84", "cg_x_mm": "800", "cg_y_mm": "0", "how_known_text": "scales"} | {field: value}
    assert yard.no("bad_input", "ines", "weigh", **fields)["field"] == field


def test_nothing_is_weighed_while_it_is_up() -> None:
    yard = Yard().lifting()
    yard.no(
        "not_in_state", "ines", "weigh", mass_kg="84", cg_x_mm="800", cg_y_mm="0", how_known_text="scales"
    )


def test_r5_a_lift_waits_for_what_its_task_waits_for() -> None:
    """Called for a later hour it may be; lifted before its task may be taken it may not."""
    pytest.importorskip("yokemate.rules.availability")
    from yokemate.planfile.model import After

    first = task_row("T8", 8, Step(id="s1", say="Run the pipes"))
    waits = task_row("T9", 9, Step(id="s1", say="Lift it on", kind="lift"))
    waits = waits.model_copy(update={"plan": waits.plan.model_copy(update={"after": [After(task="T8")]})})
    yard = Yard(first, waits).in_place()
    assert yard.no("task_waits", "desmond", "lift") == {"task": "T9", "waits_for": ["T8"]}


def test_a_lift_whose_task_is_left_out_is_not_called() -> None:
    yard = Yard(task_row("T9", 9, Step(id="s1", say="Lift it on", kind="lift"), state="left_out"))
    yard.no("not_in_state", "ines", "call", when_ms=yard.now_ms + 3_600_000)
    assert isinstance(yard.lift(), Lift)
