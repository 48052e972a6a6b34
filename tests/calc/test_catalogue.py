"""The catalogue: every docstring keeps its promise, and every calculation can be called by name."""

import inspect
import json
import typing
from dataclasses import fields, is_dataclass
from fractions import Fraction
from typing import Any

import pytest

from yokemate.calc import contract
from yokemate.calc.catalogue import Argument, Result, as_json, catalogue, function
from yokemate.calc.compute import compute, from_words
from yokemate.calc.errors import CalcError
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
    "weigh": {"front_kg": "52 kg", "rear_kg": "43 kg", "length_mm": "2400 mm"},
    "weigh_tilted": {
        "mass_kg": "960 kg",
        "length_mm": "2265 mm",
        "front_level_kg": "499 kg",
        "front_tilted_kg": "532.1 kg",
        "raised_mm": "700 mm",
    },
    "weight_limit": {"reach_cm": "40 cm", "height_cm": "95 cm"},
    "lifting_index": {"load_kg": "25 kg", "limit_kg": "12.3 kg"},
    "team_limit": {"individual_kg": "25 kg; 16 kg"},
    "fewest_people": {"load_kg": "33 kg"},
    "filter_figure": {"zone_kg": "25 kg"},
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
    "extended_resistance": {
        "tail_m": "1.2 m",
        "tail_mm2": "1.3 mm²",
        "added_m": "0.9 m",
        "added_mm2": "2 mm²",
    },
    "gauge_for": {"area_mm2": "1.5 mm²"},
    "which_gauge": {"gauge": 12},
    "fuse_for": {"load_a": "22 A", "wire_a": "32 A"},
    "strand_area": {"strands": 32, "strand_mm": "0.2 mm"},
    "splice_area": {"side_a_mm2": "0.75 mm²; 1.5 mm²", "side_b_mm2": "2.5 mm²"},
    "fitted_diameter": {"inside_mm": "19 mm", "outside_mm": "28 mm", "spigot_mm": "20.2 mm"},
    "clamp_largest": {"number": 16},
    "clamp_fit": {
        "fitted_mm": "28.8 mm",
        "clamps": [{"name": "12", "least_mm": "14 mm", "most_mm": "32 mm"}],
    },
    "push_depth": {"inside_mm": "19 mm"},
    "cut_length": {"gap_mm": "7 3/8 in", "insertion_a_mm": "1 1/8 in", "insertion_b_mm": "1 1/8 in"},
    "belt_mark": {"mark": "6PK1200"},
    "belt_from_inches": {"ribs": 5, "tenths_in": 345},
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


def in_unit(argument: Argument, figure: str) -> Any:
    return {"value": figure, "unit": argument.unit} if argument.dimension else figure


@pytest.mark.parametrize("name", NAMES)
def test_ranges_are_kept(name: str) -> None:
    """R32: each figure just outside its range is refused, by name, however good the others are."""
    for argument in catalogue()[name].args:
        if (
            argument.low is None
            or argument.high is None
            or argument.kind not in ("number", "exact", "whole", "numbers")
        ):
            continue
        step = Fraction(1) if argument.kind == "whole" else Fraction(1, 1000)
        for figure in (Fraction(argument.low) - step, Fraction(argument.high) + step):
            typed = in_unit(argument, f"{float(figure):.4f}".rstrip("0").rstrip("."))
            inputs = {**example_inputs(name), argument.name: [typed] if argument.kind == "numbers" else typed}
            with pytest.raises(CalcError) as refused:
                compute(name, inputs)
            assert refused.value.field.split("[")[0] == argument.name, f"{name}: {refused.value}"


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


def test_result_describes_nested_parts() -> None:
    """The shares of a lift come out per support with units, as the catalogue says they will."""
    shares = compute("support_shares", example_inputs("support_shares"))["result"]["shares"]
    described: Result = catalogue()["support_shares"].result

    assert shares[0]["nominal_kg"] == {"value": pytest.approx(60), "unit": "kg"}
    assert [field.name for field in described.fields] == ["method", "shares"]
    assert {field.name for field in described.fields[1].fields} == set(shares[0])
