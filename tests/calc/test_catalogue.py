"""The catalogue: every docstring keeps its promise, and every calculation can be called by name."""

import functools
import inspect
import json
import re
import typing
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import partial
from typing import Any

import pytest

from yokemate.calc import contract, hazards
from yokemate.calc.catalogue import Argument, Result, as_json, catalogue, function
from yokemate.calc.compute import compute, from_words
from yokemate.calc.errors import CalcError
from yokemate.planfile.model import Hazard
from yokemate.units import UNITS

NAMES = sorted(catalogue())
# Names that end like a unit but are none: a count of cuts, a note.
UNIT_SUFFIXES = {
    u: u
    for u in UNITS
    if u not in ("m", "in", "t", "n", "a", "v", "h", "s", "g", "l", "ft", "min", "day", "bar")
}


def result_classes(result_hint: Any) -> list[type]:
    """Every dataclass that a result is made of."""
    found: list[type] = []
    for hint in (result_hint, *typing.get_args(result_hint)):
        if is_dataclass(hint) and isinstance(hint, type) and hint not in found:
            found.append(hint)
            for inner in typing.get_type_hints(hint).values():
                found += [c for c in result_classes(inner) if c not in found]
    return found


# Hazards of a workshop by what is worked out, as common practice has them: loads, stands, leads, fuel, brake fluid, coolant.
CAUTIONED = {
    "support_shares": "lift", "sling_limit": "lift", "figure_at_heights": "lift", "stand_rating": "under_car",
    "voltage_drop": "live_battery", "splice_area": "solder", "fuel_hose": "fuel_open", "brake_fluid": "brake_fluid",
    "refill_neat": "hot_coolant", "belt_deflection": "rotating", "cut_plan": "cut_edge", "drill_size": "grind_drill",
    "heat_cycles_left": "exhaust_co",
}  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_cautions_are_kinds_that_a_plan_may_name(name: str) -> None:
    """Each has words on the screens; what hurts is said where it is worked out."""
    found = catalogue()[name].hazards

    assert set(found) <= set(typing.get_args(Hazard))
    assert name not in CAUTIONED or CAUTIONED[name] in found


def test_no_caution_is_kept_for_a_calculation_that_is_gone() -> None:
    assert set(hazards._OF_CALCULATION) <= set(NAMES)
    assert set(hazards._OF_SUBJECT) == {entry.subject for entry in catalogue().values()}


@pytest.mark.parametrize("name", NAMES)
def test_docstring_matches_signature(name: str) -> None:
    """Each argument of the signature, and no other, is described in order with a unit, a text and
    for figures a range.
    """
    promise = contract.read_promise(function(name))
    parameters = inspect.signature(function(name)).parameters

    assert promise.title
    assert promise.formula
    assert promise.source
    assert ">>>" in promise.example
    assert [arg.name for arg in promise.args] == list(parameters)
    for arg, entry in zip(promise.args, catalogue()[name].args, strict=True):
        assert arg.unit == "-" or arg.unit in UNITS, arg
        assert arg.text
        if entry.kind in ("number", "exact", "whole", "numbers"):
            assert arg.low is not None, f"{name}: {arg.name} has no range"
            assert Fraction(arg.low) < Fraction(arg.high or "0")


@pytest.mark.parametrize("name", NAMES)
def test_units_are_in_the_names(name: str) -> None:
    """A figure described with a unit ends in that unit's id, in arguments and results alike."""
    promise = contract.read_promise(function(name))
    described = list(promise.args)
    for cls in result_classes(typing.get_type_hints(function(name))["return"]):
        described += contract.read_promise(cls).fields
    if isinstance(promise.returns, contract.Described):
        described.append(promise.returns)
    for item in described:
        if item.unit not in ("-", "percent"):
            assert item.name.endswith(f"_{item.unit}") or item.name == item.unit, (
                f"{name}: {item.name} [{item.unit}]"
            )
        for suffix in UNIT_SUFFIXES:
            if item.name.endswith(f"_{suffix}"):
                assert item.unit == suffix, f"{name}: {item.name} [{item.unit}]"


@pytest.mark.parametrize("name", NAMES)
def test_results_are_described(name: str) -> None:
    """Each field of each result class, and no other, is described in order with a unit."""
    hint = typing.get_type_hints(function(name))["return"]
    classes = result_classes(hint)
    promise = contract.read_promise(function(name))
    if classes:
        assert promise.returns == classes[0].__name__
    else:
        assert isinstance(promise.returns, contract.Described)
    for cls in classes:
        described = contract.read_promise(cls).fields
        assert [field.name for field in described] == [field.name for field in fields(cls)]
        assert all(field.unit == "-" or field.unit in UNITS for field in described)


def test_a_docstring_taken_apart() -> None:
    """By reading: each part of two docstrings comes out as it stands there, lines joined, the range beside the text."""
    scatter, tip = contract.read_promise(function("scatter")), contract.read_promise(function("crane_tip"))

    assert scatter.title == "How far preload scatters about its middle, from the tightening factor"
    assert scatter.formula == "±(a - 1)/(a + 1), a = F_max/F_min"
    assert scatter.args == (contract.Described("tightening_factor", "-", "a", "1", "4"),)
    assert scatter.returns == contract.Described("scatter_percent", "percent", "either way")
    assert scatter.source.endswith("for torque wrenches, a = 1.4 to 1.6)")
    assert scatter.example == ">>> round(scatter(1.6), 1)\n23.1"
    assert (scatter.figures, scatter.figures_why) == (2, "a tightening factor is an estimate")
    assert (tip.figures, tip.figures_why) == (None, "")
    assert contract.read_promise(function("heat_cycles_left")).title.endswith(
        "clamps after heat)"
    )  # over two lines
    assert tip.returns == "CraneTip"
    assert (tip.args[1].low, tip.args[1].high) == ("0", "5000")


def test_what_rests_on_a_nut_factor_says_that_it_is_known_as_a_range() -> None:
    """Published factors for one surface go from 0.10 to 0.26 (light oil): an answer to six figures would be a pretence."""
    rests = {
        name
        for name, entry in catalogue().items()
        if any(arg.name in ("condition", "stated_factor") or "nut_factor" in arg.name for arg in entry.args)
    }
    assert len(rests) == 7
    # read in each unit: the torque itself is exact, and one more figure tells 726 from 730
    assert {catalogue()[name].figures for name in rests - {"read_in_each_unit"}} == {2}
    assert catalogue()["read_in_each_unit"].figures == 3
    assert {catalogue()[name].figures_why for name in rests} == {"the nut factor is known as a range only"}


def labels(parts: Iterable[Argument | Result]) -> Iterator[list[str]]:
    """What stands beside each other on a screen: of one form, row or record."""
    yield [one.label for one in parts]
    for one in parts:
        yield from labels(one.columns if isinstance(one, Argument) else one.fields)


@pytest.mark.parametrize("name", NAMES)
def test_no_two_of_one_form_or_record_read_alike(name: str) -> None:
    entry = catalogue()[name]
    for beside in (*labels(entry.args), *labels([entry.result])):
        assert len(set(beside)) == len(beside)
        assert all(word[0].isupper() and "_" not in word for word in beside if word)


def test_what_each_measures_stands_behind_names_that_read_alike() -> None:
    """By reading: the unit is left away, and comes back as what it measures where two would read the same."""
    legs, stock = catalogue()["unequal_legs"].result.fields, catalogue()["crane_tip"].args
    error = next(
        [one.label for one in record]
        for entry in catalogue().values()
        if (record := entry.result.fields) and {"error", "error_percent"} <= {one.name for one in record}
    )
    assert [one.label for one in legs] == ["Near, mass", "Far, mass", "Near, angle", "Far, angle"]
    assert [one.label for one in stock][:3] == ["Crane, mass", "Crane, length", "Front"]
    assert {"Error", "Error, percent"} <= set(error)
    assert catalogue()["support_shares"].args[2].label == "Centre of gravity x"
    assert catalogue()["torque_for_preload"].args[2].label == "Percent of proof"


def test_what_is_no_number_is_in_no_range() -> None:
    """R32: called from other code with infinity or with what is no number, a calculation refuses."""
    for value in (float("nan"), float("inf"), float("-inf")):
        with pytest.raises(CalcError, match="outside 1 to 4"):
            function("scatter")(value)


def test_catalogue_is_json() -> None:
    """The catalogue is plain data, so that a form can be made from it."""
    entries = json.loads(json.dumps(as_json()))

    assert len(entries) == len(NAMES)
    assert all(entry["args"] and entry["result"] for entry in entries)


def example_inputs(name: str) -> dict[str, Any]:
    """Inputs in range for every argument, as a person would type them, from each example."""
    return EXAMPLES[name]


SUPPORTS = [{"name": "a", "x_mm": "0 mm", "y_mm": "0 mm"}, {"name": "b", "x_mm": "2 m", "y_mm": "0 mm"}]
PULLEYS = [
    {"name": "crank", "x_mm": "0 mm", "y_mm": "0 mm", "radius_mm": "21 mm"},
    {"name": "fan", "x_mm": "30 mm", "y_mm": "0 mm", "radius_mm": "6 mm"},
]
EXAMPLES: dict[str, dict[str, Any]] = {
    "let_go": {
        "mass_kg": "80 kg",
        "supports": [*SUPPORTS, {"name": "c", "x_mm": "1 m", "y_mm": "1 m"}],
        "cog_x_mm": "1 m",
        "cog_y_mm": "0 mm",
    },
    "burst_rate": {"rate_per_min": "10 /min", "burst_min": "8 min"},
    "sling_limit": {"rated_kg": "2 t", "use": "two legs", "vertical_deg": "40 °"},
    "scale_fit": {
        "target": "92",
        "minus": "1",
        "plus": "1",
        "step": "5",
        "lowest_mark": "20",
        "maximum": "200",
    },
    "aircraft_torque": {"thread_name": "1/4-28", "drag_lbf_in": "7 lbf·in"},
    "nut_may_be_reused": {"thread_name": "1/2-20", "drag_lbf_in": "1 N·m"},
    "support_shares": {"mass_kg": "100 kg", "supports": SUPPORTS, "cog_x_mm": "80 cm"},
    "tightening_order": {"count": 8},
    "pattern_places": {"count": 8},
    "tightening_passes": {"count": 8},
    "angle_rounds": {"count": 8, "torque": "27", "angles_deg": "60 °; 30 °"},
    "pass_target": {"target": "92", "percent": "30 %"},
    "usable_range": {"maximum": "100", "lowest_mark": "10"},
    "nearest_mark": {"target": "92", "step": "5", "lowest_mark": "20", "maximum": "200"},
    "accepted_window": {
        "target": "37",
        "minus": "2",
        "plus": "2",
        "from_unit": "lbf_ft",
        "wrench_unit": "n_m",
    },
    "extension_ratio": {"length_mm": "400 mm", "extension_mm": "80 mm"},
    "extension_setting": {"torque": "100", "length_mm": "400 mm", "extension_mm": "80 mm"},
    "extension_applied": {"setting": "100", "length_mm": "400 mm", "extension_mm": "80 mm"},
    "permitted_deviation": {"maximum_n_m": "100 N·m"},
    "check_due": {"last_check": "2026-01-31", "on": "2026-03-01"},
    "house_check": {
        "mass_kg": "10 kg",
        "arm_mm": "500 mm",
        "reading_n_m": "50 N·m",
        "maximum_n_m": "100 N·m",
        "own_kg": "1.3 kg",
        "own_arm_mm": "180 mm",
    },
    "thread": {"thread": "M10"},
    "bolt_strength": {"thread_name": "M10", "strength_class": "8.8"},
    "nut_factor": {"condition": "dry"},
    "short_torque": {"nut_factor": "0.2", "diameter_mm": "10 mm", "preload_kn": "25 kN"},
    "short_preload": {"torque_n_m": "37 lbf·ft", "nut_factor": 0.2, "diameter_mm": "10 mm"},
    "torque_for_preload": {"thread_name": "M10", "strength_class": "8.8"},
    "level": {"percent_of_proof": "80 %"},
    "plausibility": {"thread_name": "M10", "strength_class": "8.8", "torque_n_m": "37 lbf·ft"},
    "read_in_each_unit": {"figure": "74", "thread_name": "M12", "strength_class": "10.9"},
    "lubrication_change": {"torque": "100", "nut_factor_given": "0.2", "nut_factor_now": "0.15"},
    "scatter": {"tightening_factor": "1.6"},
    "long_form": {
        "thread_name": "M12",
        "strength_class": "8.8",
        "friction_thread": "0.12",
        "friction_head": "0.12",
    },
    "socket_sizes": {"thread_size": "M8"},
    "slope_shares": {
        "cog_from_lower_mm": "1200 mm",
        "length_mm": "2.4 m",
        "cog_above_hands_mm": "300 mm",
        "tilt_deg": "20 °",
    },
    "shift_on_slope": {"cog_above_hands_mm": "300 mm", "tilt_deg": "20 °"},
    "weigh": {"front_kg": "52 kg", "rear_kg": "43 kg", "length_mm": "2400 mm"},
    "weigh_tilted": {
        "mass_kg": "960 kg",
        "length_mm": "2265 mm",
        "front_level_kg": "499 kg",
        "front_tilted_kg": "532.1 kg",
        "raised_mm": "700 mm",
    },
    "usual_mass": {"part": "battery", "mass_kg": "17 kg"},
    "weight_limit": {"reach_cm": "40 cm", "height_cm": "95 cm"},
    "lifting_index": {"load_kg": "25 kg", "limit_kg": "12.3 kg"},
    "team_limit": {"individual_kg": "25 kg; 16 kg"},
    "fewest_people": {"load_kg": "33 kg"},
    "filter_figure": {"zone_kg": "25 kg"},
    "zone_figure": {"from_zone": "knuckle to mid lower leg", "to_zone": "elbow to knuckle"},
    "figure_at_heights": {"from_height_cm": "75 cm", "to_height_cm": "165 cm"},
    "carrying": {"distance_m": "12 m"},
    "rolling": {"load_kg": "400 kg"},
    "share_by_en_1005": {"figure_kg": "25 kg"},
    "judge": {"places": [{"name": "left", "share_kg": "16 kg", "limit_kg": "25 kg"}]},
    "assign": {"shares_kg": ["23 kg", "12 kg"], "limits_kg": ["15 kg", "25 kg"]},
    "sling_leg": {"load_kg": "186 kg", "angle_deg": "45 °"},
    "unequal_legs": {"load_kg": "150 kg", "near_mm": "500 mm", "far_mm": "1 m", "rise_mm": "1 m"},
    "sling_factor": {"along_leg_mm": "16.25 in", "rise_mm": "10 in"},
    "choker_factor": {"bend_deg": "100 °"},
    "shackle_factor": {"side_deg": "45 °"},
    "eye_bolt_factor": {"kind": "shoulder", "angle_deg": "40 °"},
    "crane_hole": {"load_kg": "460 kg", "ratings_kg": "2 US ton; 1.5 US ton; 1 US ton; 0.5 US ton"},
    "crane_tip": {
        "crane_kg": "75 kg",
        "crane_mm": "550 mm",
        "front_mm": "1500 mm",
        "hook_mm": "1750 mm",
        "load_kg": "250 kg",
    },
    "stand_rating": {"marked_kg": "3 t", "marked_for": "unknown"},
    "add_inches": {"lengths": "5 7/16 + 2 21/32"},
    "inches_to_mm": {"inches": "9 5/8"},
    "mm_to_inches": {"length_mm": "137 mm"},
    "drill_size": {"name": "#7"},
    "nearest_drill": {"diameter_mm": "5.5 mm"},
    "gap_gauge": {"low_mm": "0.035 in", "high_mm": "0.045 in"},
    "awg": {"gauge": "16"},
    "resistance_at": {"resistance_mohm": "1 mΩ", "temperature_deg_c": "60 °C"},
    "voltage_drop": {"current_a": "22 A", "loop_m": "6.8 m", "area_mm2": "4 mm²"},
    "drop_allowed": {"circuit": "safety"},
    "extended_resistance": {
        "tail_m": "1.2 m",
        "tail_mm2": "1.3 mm²",
        "added_m": "0.9 m",
        "added_mm2": "2 mm²",
    },
    "gauge_for": {"area_mm2": "1.5 mm²"},
    "which_gauge": {"gauge": 12},
    "fuse_for": {"load_a": "22 A", "wire_a": "32 A"},
    "loom_current": {"area_mm2": "2.5 mm²"},
    "strand_area": {"strands": 32, "strand_mm": "0.2 mm"},
    "splice_area": {"side_a_mm2": "0.75 mm²; 1.5 mm²", "side_b_mm2": "2.5 mm²"},
    "fitted_diameter": {"inside_mm": "19 mm", "outside_mm": "28 mm", "spigot_mm": "20.2 mm"},
    "clamp_largest": {"number": 16},
    "clamp_fit": {
        "fitted_mm": "28.8 mm",
        "clamps": [{"name": "12", "least_mm": "14 mm", "most_mm": "32 mm"}],
    },
    "clamp_torque": {"band": "12 mm"},
    "fuel_hose": {"marking": "R9"},
    "push_depth": {"inside_mm": "19 mm"},
    "cut_length": {"gap_mm": "7 3/8 in", "insertion_a_mm": "1 1/8 in", "insertion_b_mm": "1 1/8 in"},
    "belt_mark": {"mark": "6PK1200"},
    "belt_from_inches": {"ribs": 5, "tenths_in": "345"},
    "belt_path": {"pulleys": PULLEYS},
    "belt_deflection": {"centres_mm": "24 in", "large_mm": "12 in", "small_mm": "4 in"},
    "cut_plan": {"stock_mm": "1500 mm", "pieces": [{"length_mm": "620 mm", "count": 2}]},
    "coolant_freeze": {"percent_by_volume": "50 %"},
    "refill_neat": {"system_l": "6.4 L", "percent_now": "30 %", "percent_wanted": "50 %"},
    "topped_up": {"system_l": "5.8 L", "percent": "50 %", "water_l": "0.9 L"},
    "brake_fluid": {"fluid": "DOT 4"},
    "bleed_order": {"pipe_lengths_mm": "640 mm; 760 mm"},
    "cure_lag": {"what": "paint"},
    "distance_due": {"done_at_km": "100 km", "now_km": "150 km", "interval": "50", "unit": "mile"},
    "heat_cycles_left": {"cycles_done": 1},
    "three_point": {"quick_min": "20 min", "likely_min": "35 min", "slow_min": "80 min"},
    "sockets_to_take": {"thread_sizes": "M6; M8"},
}


def test_every_calculation_has_inputs_here() -> None:
    """A calculation added without a way to call it by name is noticed."""
    assert sorted(EXAMPLES) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_called_by_name(name: str) -> None:
    """Each calculation answers from typed text with JSON, formula and source beside it."""
    answer = json.loads(json.dumps(compute(name, example_inputs(name))))

    assert answer["result"] is not None
    assert answer["formula"]
    assert answer["source"]


def test_inputs_are_understood_in_their_own_unit() -> None:
    """2 m is 2000 mm (SI), 1 lb is 0.45359237 kg exactly (international yard and pound agreement, 1959)."""
    inputs = {"mass_kg": "100 lb", "supports": SUPPORTS, "cog_x_mm": "80 cm"}
    understood = compute("support_shares", inputs)["inputs"]

    assert understood["mass_kg"] == {"value": pytest.approx(45.359237, abs=1e-12), "unit": "kg"}
    assert [row["x_mm"] for row in understood["supports"]] == [
        {"value": 0.0, "unit": "mm"},
        {"value": 2000.0, "unit": "mm"},
    ]
    assert understood["supports"][0]["stiff"] is False
    assert understood["region"] == "box"


def test_inches_are_given_as_on_a_rule() -> None:
    """9 5/8 in is 244.475 mm: 77/8 × 25.4. A fraction of anything else is refused."""
    piece = {"length_mm": {"value": "9 5/8", "unit": "in"}, "count": "1"}
    understood = compute("cut_plan", {"stock_mm": "72 in", "pieces": [piece]})["inputs"]

    assert understood["pieces"][0]["length_mm"] == {"value": "244.475", "unit": "mm"}
    piece["length_mm"] = {"value": "9 5/8", "unit": "mm"}
    with pytest.raises(CalcError, match=r"pieces\[0\]\.length_mm: fractions are for inches only"):
        compute("cut_plan", {"stock_mm": "72 in", "pieces": [piece]})


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_has_an_answer_to_draw(name: str) -> None:
    """With a picture there is the answer it draws, made from inputs that this form asks for; else there is none."""
    entry = catalogue()[name]
    answer = compute(name, example_inputs(name))

    if entry.picture is None:
        assert answer["drawn"] is None
        return
    drawn_by = catalogue()[entry.picture_of]
    asked = {argument.name for argument in entry.args}
    assert {argument.name for argument in drawn_by.args if not argument.optional} <= asked
    assert (
        answer["drawn"]
        == compute(
            drawn_by.name,
            {
                key: given
                for key, given in example_inputs(name).items()
                if key in {argument.name for argument in drawn_by.args}
            },
        )["result"]
    )


def test_every_kind_of_picture_is_had() -> None:
    """A kind of picture that no calculation has any more is noticed."""
    assert {entry.picture for entry in catalogue().values()} - {None} == set(
        typing.get_args(contract.Picture)
    )


def in_unit(argument: Argument, figure: str) -> Any:
    return {"value": figure, "unit": argument.unit} if argument.dimension else figure


def figures(name: str) -> Iterator[tuple[Argument, str, Callable[[Fraction], dict[str, Any]]]]:
    """Every figure of a calculation that has a range, also in rows: what it is, the field that a refusal names, and
    inputs with another value of it.
    """
    for argument in catalogue()[name].args:
        for column in argument.columns:
            if column.low is not None:
                yield column, argument.name, partial(with_cell, name, argument, column)
        if argument.low is not None:
            yield argument, argument.name, partial(with_figure, name, argument)


def typed(argument: Argument, value: Fraction) -> Any:
    return in_unit(argument, f"{float(value):.7f}".rstrip("0").rstrip("."))


def with_figure(name: str, argument: Argument, value: Fraction) -> dict[str, Any]:
    figure = typed(argument, value)
    return {**example_inputs(name), argument.name: [figure] if argument.kind == "numbers" else figure}


def with_cell(name: str, argument: Argument, column: Argument, value: Fraction) -> dict[str, Any]:
    first, *others = example_inputs(name)[argument.name]
    return {**example_inputs(name), argument.name: [{**first, column.name: typed(column, value)}, *others]}


@pytest.mark.parametrize("name", NAMES)
def test_ranges_are_kept(name: str) -> None:
    """R32: each figure just outside its range is refused, by name, however good the others are."""
    for argument, field, inputs in figures(name):
        step = Fraction(1) if argument.kind == "whole" else Fraction(1, 2_000_000)
        for value in (Fraction(argument.low or "") - step, Fraction(argument.high or "") + step):
            with pytest.raises(CalcError, match=r"is outside -?[0-9]") as refused:
                compute(name, inputs(value))
            assert refused.value.field.split("[")[0] == field, f"{name}: {refused.value}"


# Where one figure bounds another, the other at its end too.
ENDS_TOGETHER: dict[tuple[str, str, str], dict[str, Any]] = {
    ("unequal_legs", "far_mm", "1"): {"near_mm": "1 mm"},
    ("unequal_legs", "near_mm", "10000"): {"far_mm": "10 m"},
    ("slope_shares", "cog_from_lower_mm", "10000"): {"length_mm": "10 m"},
    ("slope_shares", "length_mm", "100"): {"cog_from_lower_mm": "50 mm", "cog_above_hands_mm": "0 mm"},
    ("belt_deflection", "small_mm", "1000"): {"large_mm": "1 m"},
    ("belt_deflection", "large_mm", "6"): {"small_mm": "6 mm"},
    ("topped_up", "system_l", "0.5"): {"water_l": "0 L"},
    ("topped_up", "water_l", "50"): {"system_l": "50 L"},
    ("distance_due", "now_km", "0"): {"done_at_km": "0 km"},
    ("distance_due", "done_at_km", "2000000"): {"now_km": "2000000 km"},
}


@pytest.mark.parametrize("name", NAMES)
def test_ends_of_ranges_are_taken(name: str) -> None:
    """R32: a figure at either end of its range is not refused for being outside, whatever else may be amiss with it."""
    for argument, field, inputs in figures(name):
        for end in (argument.low or "", argument.high or ""):
            together = ENDS_TOGETHER.get((name, argument.name, end), {})
            said = refusal(name, {**inputs(Fraction(end)), **together})
            assert not re.match(r"[-0-9.e+]+ is outside", said), f"{name}, {field} {end}: {said}"


def refusal(name: str, inputs: dict[str, Any]) -> str:
    """What a calculation says against inputs; nothing when it answers."""
    try:
        compute(name, inputs)
    except CalcError as refused:
        return refused.message
    return ""


@pytest.mark.parametrize("name", NAMES)
def test_words_that_are_not_offered_are_refused(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """R32: called from other code, a calculation itself refuses a word that its form would not offer."""
    given: dict[str, Any] = {}

    @functools.wraps(function(name))
    def notes(**values: Any) -> Any:
        given.update(values)
        return function(name)(**values)

    monkeypatch.setattr(
        "yokemate.calc.compute.function", lambda asked: notes if asked == name else function(asked)
    )
    compute(name, example_inputs(name))
    for argument in catalogue()[name].args:
        if argument.kind == "choice":
            with pytest.raises(CalcError) as refused:
                function(name)(**{**given, argument.name: "anything else"})
            assert refused.value.field == argument.name


def test_bare_numbers_are_refused() -> None:
    """R32: a figure with a dimension needs its unit, and the units offered are named."""
    for bare in ("50", 50, 50.0):
        with pytest.raises(CalcError, match=r"torque_n_m: '50(\.0)?' has no unit\. Say which: N·m, lbf·ft"):
            compute("short_preload", {"torque_n_m": bare, "nut_factor": 0.2, "diameter_mm": "10 mm"})


def test_units_do_not_matter() -> None:
    """The same torque in another unit gives the same preload, with its unit."""
    metric = compute(
        "short_preload", {"torque_n_m": "50.165264088 N·m", "nut_factor": "0.2", "diameter_mm": "10 mm"}
    )
    inch = compute(
        "short_preload",
        {"torque_n_m": {"value": 37, "unit": "lbf_ft"}, "nut_factor": 0.2, "diameter_mm": "1 cm"},
    )

    assert metric["result"]["unit"] == "kn"
    assert metric["result"]["value"] == pytest.approx(25.08, abs=0.005)
    assert metric["result"]["value"] == pytest.approx(inch["result"]["value"])


def test_words_of_a_command_line() -> None:
    """name=value unit words become inputs."""
    assert from_words(["torque_n_m=50 N·m", "nut_factor=0.2"]) == {
        "torque_n_m": "50 N·m",
        "nut_factor": "0.2",
    }
    rows = [{"name": "crank", "radius_mm": "21 mm"}]
    assert from_words(["pulleys=" + json.dumps(rows)]) == {"pulleys": rows}
    with pytest.raises(CalcError, match="pulleys: is not JSON"):
        from_words(["pulleys=[{"])
    with pytest.raises(CalcError, match="not name=value"):
        from_words(["50 N·m"])


@pytest.mark.parametrize(
    ("name", "inputs", "field"),
    [
        ("level", {}, "percent_of_proof"),
        ("level", {"percent_of_proof": "80 %", "colour": 1}, "colour"),
        ("nothing", {}, "name"),
        ("nut_factor", {"condition": "greasy"}, "condition"),
        ("nut_factor", {"condition": 3}, "condition"),
        ("tightening_order", {"count": "8.5"}, "count"),
        ("tightening_order", {"count": True}, "count"),
        ("check_due", {"last_check": "31.1.2026", "on": "2026-03-01"}, "last_check"),
        ("support_shares", {"mass_kg": "100 kg", "supports": "a", "cog_x_mm": "1 m"}, "supports"),
        ("support_shares", {"mass_kg": "100 kg", "supports": [3], "cog_x_mm": "1 m"}, "supports[0]"),
        (
            "support_shares",
            {"mass_kg": "100 kg", "supports": [{"name": "a"}], "cog_x_mm": "1 m"},
            "supports[0].x_mm",
        ),
        (
            "support_shares",
            {"mass_kg": "100 kg", "supports": [{"nam": "a"}], "cog_x_mm": "1 m"},
            "supports[0].nam",
        ),
        ("sling_leg", {"load_kg": "1 kg", "angle_deg": "45 °", "rigid": "maybe"}, "rigid"),
        ("level", {"percent_of_proof": {"value": "80"}}, "percent_of_proof"),
        ("scatter", {"tightening_factor": {"value": 1}}, "tightening_factor"),
        ("team_limit", {"individual_kg": 3}, "individual_kg"),
        ("sling_leg", {"load_kg": "1 N", "angle_deg": "45 °"}, "load_kg"),
    ],
)
def test_bad_inputs(name: str, inputs: dict[str, Any], field: str) -> None:
    """R32: bad input names its field and a remedy."""
    with pytest.raises(CalcError) as refused:
        compute(name, inputs)
    assert refused.value.field == field
    assert refused.value.remedy


@pytest.mark.parametrize(
    ("name", "inputs", "said"),
    [
        ("sockets_to_take", {"thread_sizes": 3}, "thread_sizes: is a list of words"),
        ("sockets_to_take", {"thread_sizes": ["M6", 3]}, "thread_sizes: is a list of words"),
        ("sockets_to_take", {"thread_sizes": [3]}, "thread_sizes: is a list of words"),
        ("bleed_order", {"pipe_lengths_mm": 3}, "pipe_lengths_mm: is a list of figures"),
        ("belt_mark", {"mark": 3}, "mark: is a word"),
        (
            "nut_factor",
            {"condition": "greasy"},
            "condition: 'greasy' is not known here. Choose one of: dry, oiled",
        ),
        ("scatter", {"tightening_factor": {"value": "1.6", "unit": "-"}}, "tightening_factor: has no unit"),
        ("level", {"percent_of_proof": {"value": "80"}}, "percent_of_proof: needs a value and a unit"),
        ("level", {"percent_of_proof": {"unit": "percent"}}, "percent_of_proof: needs a value and a unit"),
        (
            "level",
            {"percent_of_proof": {"value": "80", "unit": 3}},
            "percent_of_proof: needs a value and a unit",
        ),
        ("tightening_order", {"count": True}, "count: is not a number"),
        ("scatter", {"tightening_factor": [1]}, "tightening_factor: is not a number"),
    ],
)
def test_what_is_said_of_bad_inputs(name: str, inputs: dict[str, Any], said: str) -> None:
    """R32: what is wrong with what was given, in words."""
    with pytest.raises(CalcError) as refused:
        compute(name, inputs)
    assert str(refused.value).startswith(said)


@pytest.mark.parametrize(
    ("said", "rigid"),
    [("yes", True), ("true", True), (True, True), ("no", False), ("false", False), (False, False)],
)
def test_yes_and_no(said: Any, rigid: bool) -> None:
    """R3: 186 kg on three legs at 45° is 131.5 kg a leg when the load is rigid, 87.7 when it evens out."""
    answer = compute("sling_leg", {"load_kg": "186 kg", "angle_deg": "45 °", "legs": 3, "rigid": said})

    assert answer["inputs"]["rigid"] is rigid
    assert answer["result"]["value"] == pytest.approx(131.5 if rigid else 87.7, abs=0.05)


def test_lists_as_text_or_as_lists() -> None:
    """Words and figures with ; between are the same as a list of them, and are given back in the calculation's own unit."""
    for sizes in ("M6; 3/8", ["M6", "3/8 "]):
        assert compute("sockets_to_take", {"thread_sizes": sizes})["inputs"] == {
            "thread_sizes": ["M6", "3/8"]
        }
    for lengths in ("64 cm; 760 mm", ["64 cm", "760 mm"]):
        answer = compute("bleed_order", {"pipe_lengths_mm": lengths})
        assert answer["inputs"]["pipe_lengths_mm"] == [
            {"value": 640, "unit": "mm"},
            {"value": 760, "unit": "mm"},
        ]
        assert answer["result"] == [2, 1]


def test_the_answer_in_another_unit() -> None:
    """0.2 × 10 mm × 25 kN = 50 N·m is 36.878 lbf·ft (1.3558179 to one); an inch is an inch exactly; a unit of something else
    changes nothing, and one that there is not is refused.
    """
    torque = {"nut_factor": "0.2", "diameter_mm": "10 mm", "preload_kn": "25 kN"}

    assert compute("short_torque", torque, ["lbf_ft"])["result"] == {
        "value": pytest.approx(36.8781, rel=1e-5),
        "unit": "lbf_ft",
    }
    assert compute("inches_to_mm", {"inches": "9 5/8"}, ["in"])["result"] == {"value": "9.625", "unit": "in"}
    assert compute("inches_to_mm", {"inches": "1"}, ["kg"])["result"] == {"value": "25.4", "unit": "mm"}
    with pytest.raises(CalcError, match="answer_in: 'furlong' is not a unit"):
        compute("short_torque", torque, ["furlong"])


def test_a_picture_is_drawn_in_its_own_units() -> None:
    """Whatever unit is wanted for the answer; a picture of another calculation is that one's answer; without one it is none."""
    legs = compute("unequal_legs", example_inputs("unequal_legs"), ["lb"])
    passes = compute("tightening_passes", example_inputs("tightening_passes"))

    assert (legs["result"]["near_kg"]["unit"], legs["drawn"]["near_kg"]["unit"]) == ("lb", "kg")
    assert legs["result"]["near_kg"]["value"] == pytest.approx(111.803 / 0.45359237, rel=1e-5)
    assert passes["drawn"] == compute("pattern_places", example_inputs("pattern_places"))["result"]
    assert compute("scatter", example_inputs("scatter"))["drawn"] is None
    per_kg = pytest.approx(1 / 0.45359237)
    assert legs["drawn_in"] == {"kg": {"name": "lb", "per": per_kg}}
    assert compute("unequal_legs", example_inputs("unequal_legs"), ["kg"])["drawn_in"] == {}


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        (0.00052345678, "0.52345678"),  # all the digits that stand there
        (1e-7, "0.0001"),
        (0.123456789012, "123.456789012"),
        (0.25, "250"),
    ],
)
def test_numbers_in_json_are_read_as_they_stand(typed: float, read: str) -> None:
    """R16: metres to millimetres, by a thousand."""
    inputs = {"length_mm": {"value": "400", "unit": "mm"}, "extension_mm": {"value": typed, "unit": "m"}}
    assert compute("extension_ratio", inputs)["inputs"]["extension_mm"] == {"value": read, "unit": "mm"}


@pytest.mark.parametrize("typed", [0.1234567890123, 0.1 + 0.2, "0.1234567890123"])
def test_more_decimals_than_are_read_are_refused(typed: Any) -> None:
    inputs = {"length_mm": {"value": "400", "unit": "mm"}, "extension_mm": {"value": typed, "unit": "m"}}
    with pytest.raises(CalcError, match="extension_mm: has more than 12 decimals"):
        compute("extension_ratio", inputs)


def test_small_floats_are_no_powers_of_ten() -> None:
    """A program's 0.00001 is understood although Python writes it 1e-05."""
    assert compute("pass_target", {"target": 1e-05, "percent": "100 %"})["result"] == "0.00001"


def test_what_a_result_is_made_of() -> None:
    """By reading the signatures: one figure, several, several or none; a row, rows, rows within; and what is optional in them."""
    results = {name: entry.result for name, entry in catalogue().items()}
    shares, tip = results["support_shares"], results["crane_tip"]

    assert {
        name: results[name].many
        for name in ("scatter", "bleed_order", "assign", "read_in_each_unit", "crane_tip")
    } == {
        "scatter": False,
        "bleed_order": True,
        "assign": True,
        "read_in_each_unit": True,
        "crane_tip": False,
    }
    assert (results["assign"].name, results["crane_tip"].name) == ("people", "CraneTip")
    assert [(field.name, field.many, bool(field.fields)) for field in shares.fields] == [
        ("method", False, False),
        ("shares", True, True),
        ("people_most_kg", False, False),
    ]
    assert [(field.name, field.unit, field.many) for field in tip.fields] == [
        ("ratio", "-", False),
        ("enough", "-", False),
        ("front_kg", "kg", False),
        ("rear_kg", "kg", False),
    ]


def test_what_an_argument_says() -> None:
    """By reading the signatures: what may be left out, and what is taken then."""
    reach, _, travel, *_, duration, coupling, system = catalogue()["weight_limit"].args
    stated = catalogue()["plausibility"].args[-1]

    assert (reach.optional, reach.default) == (False, None)
    assert (travel.optional, travel.default, travel.unit, travel.dimension) == (True, "25", "cm", "length")
    assert [(word.kind, word.default) for word in (duration, coupling, system)] == [
        ("choice", "short"),
        ("choice", "good"),
        ("choice", "metric"),
    ]
    assert (stated.optional, stated.default, stated.kind, stated.dimension) == (True, None, "number", "")


def test_what_a_picture_draws() -> None:
    """A calculation without a picture draws nothing, not even itself; one with a picture draws its own answer or another's."""
    drawn = {name: (entry.picture, entry.picture_of) for name, entry in catalogue().items()}

    assert drawn["scatter"] == (None, "")
    assert drawn["belt_path"] == ("belt", "belt_path")
    assert drawn["tightening_passes"][1] == "pattern_places"
    assert {name for name, (picture, of) in drawn.items() if bool(picture) != bool(of)} == set()


def test_result_describes_nested_parts() -> None:
    """The shares of a lift come out per support with units, as the catalogue says they will."""
    shares = compute("support_shares", example_inputs("support_shares"))["result"]["shares"]
    described: Result = catalogue()["support_shares"].result

    assert shares[0]["nominal_kg"] == {"value": pytest.approx(60), "unit": "kg"}
    assert [field.name for field in described.fields] == ["method", "shares", "people_most_kg"]
    assert {field.name for field in described.fields[1].fields} == set(shares[0])
