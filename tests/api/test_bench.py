"""The Bench over REST and from the command line: any calculation by name, from plain data to plain data."""

from __future__ import annotations

import json

import pytest

from support.phones import Garage
from yokemate.calc.catalogue import catalogue
from yokemate.cli import main


def test_every_calculation_is_listed_and_described(one: Garage) -> None:
    """A form can be made of each: its inputs with units, its formula and source."""
    phone = one.phones["kofi"]
    listed = phone.get("/api/bench")
    assert [line["name"] for line in listed] == list(catalogue())
    for line in listed:
        said = phone.get(f"/api/bench/{line['name']}")
        assert said["formula"], line
        assert said["source"], line
        for asked in said["inputs"]:
            assert asked["kind"] == "rows" or asked["text"], (line, asked)
            if asked["units"]:
                assert asked["unit"] in [unit["id"] for unit in asked["units"]]


def test_a_sling_leg_in_pounds_and_in_kilograms(one: Garage) -> None:
    """1000 lb on two legs at 60 degrees: 577 lb each (NAVEDTRA 14080, printed; R1 of 5-lifts); the same load in kg agrees."""
    phone = one.phones["kofi"]
    inputs = {"load_kg": {"value": "1000", "unit": "lb"}, "angle_deg": {"value": "60", "unit": "deg"}}
    answer = phone.post("/api/bench/sling_leg", {"inputs": inputs}, 200)
    assert answer["result"]["unit"] == "kg"
    assert answer["result"]["value"] / 0.45359237 == pytest.approx(577, abs=1)
    in_kg = {**inputs, "load_kg": "453.59237 kg"}
    assert phone.post("/api/bench/sling_leg", {"inputs": in_kg}, 200)["result"] == answer["result"]


@pytest.mark.parametrize(
    ("inputs", "field"),
    [
        ({"load_kg": "186", "angle_deg": "60 deg"}, "load_kg"),  # a bare number is refused
        ({"load_kg": "186 kg", "angle_deg": "20 deg"}, "angle_deg"),  # below 30 degrees: ASME B30.9 floor
        ({"load_kg": "186 kg"}, "angle_deg"),
        ({"load_kg": "186 kg", "angle_deg": "60 deg", "colour": "red"}, "colour"),
        ({"load_kg": "186 N·m", "angle_deg": "60 deg"}, "load_kg"),
    ],
)
def test_out_of_range_is_an_error_that_names_its_input(one: Garage, inputs: dict[str, str], field: str) -> None:
    """R32: what is wrong, and what to do."""
    problem = one.phones["kofi"].post("/api/bench/sling_leg", {"inputs": inputs}, 422)
    assert problem["params"]["field"] == field
    assert problem["way_on"]


def test_an_unknown_calculation_is_not_found(one: Garage) -> None:
    """R32."""
    assert one.phones["kofi"].get("/api/bench/perpetual_motion", 404)["code"] == "unknown"


def test_the_same_from_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """List, describe, compute from words and from JSON; a near name is offered."""
    assert main(["calc"]) == 0
    assert "sling_leg" in capsys.readouterr().out
    assert main(["calc", "sling_leg"]) == 0
    assert "Source:" in capsys.readouterr().out
    assert main(["calc", "sling_leg", "load_kg=1000 lb", "angle_deg=60 deg"]) == 0
    by_words = json.loads(capsys.readouterr().out)
    assert main(["calc", "sling_leg", '{"load_kg": "1000 lb", "angle_deg": "60 deg"}']) == 0
    assert json.loads(capsys.readouterr().out) == by_words
    assert main(["calc", "sling_legs"]) == 2
    assert "sling_leg" in capsys.readouterr().err
