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


def test_every_answer_is_described_and_pictures_are_named(one: Garage) -> None:
    """A screen can explain each figure of an answer, and knows which picture to draw of it."""
    phone = one.phones["kofi"]
    said = phone.get("/api/bench/unequal_legs")
    assert said["picture"] == "sling"
    assert [(part["name"], part["unit"], part["units"][0]["name"]) for part in said["answer"]["parts"]] == [
        ("near_kg", "kg", "kg"),
        ("far_kg", "kg", "kg"),
        ("near_deg", "deg", "°"),
        ("far_deg", "deg", "°"),
    ]
    assert "nearer under the hook" in said["answer"]["parts"][0]["text"]
    shares = phone.get("/api/bench/support_shares")
    assert shares["picture"] == "lift_from_above"
    assert [part["many"] for part in shares["answer"]["parts"]] == [False, True, False]
    assert phone.get("/api/bench/nut_factor")["picture"] is None


def test_what_a_picture_draws_comes_with_the_answer(one: Garage) -> None:
    """The order of 4 bolts goes across (clock rule: 12, 6, 3, 9); its picture has each bolt's place and turn."""
    answer = one.phones["kofi"].post("/api/bench/tightening_order", {"inputs": {"count": "4"}}, 200)
    assert answer["result"] == [1, 3, 2, 4]
    assert [(place["number"], place["turn"]) for place in answer["drawn"]] == [(1, 1), (2, 3), (3, 2), (4, 4)]
    assert answer["inputs"] == {"count": 4, "shape": "circle", "side_ratio": 1.0}


def test_the_answer_comes_in_the_units_wanted(one: Garage) -> None:
    """R4 of the sling table in pounds: 111.80 kg is 246.48 lb (0.45359237 kg each, exact), 70.71 kg is 155.89 lb; angles
    stay, and so does what the picture draws; its words are told the unit.
    """
    inputs = {"load_kg": "150 kg", "near_mm": "500 mm", "far_mm": "1 m", "rise_mm": "1 m"}
    sent = {"inputs": inputs, "answer_in": ["lb", "n_m"]}
    answer = one.phones["kofi"].post("/api/bench/unequal_legs", sent, 200)
    assert answer["result"]["near_kg"] == {"value": pytest.approx(246.48, abs=0.01), "unit": "lb"}
    assert answer["result"]["far_kg"] == {"value": pytest.approx(155.89, abs=0.01), "unit": "lb"}
    assert answer["result"]["near_deg"] == {"value": pytest.approx(63.43, abs=0.01), "unit": "deg"}
    assert answer["drawn"]["near_kg"] == {"value": pytest.approx(111.80, abs=0.01), "unit": "kg"}
    assert answer["drawn_in"]["kg"] == {"name": "lb", "per": pytest.approx(1 / 0.45359237)}
    cut = {"gap_mm": "10 in", "insertion_a_mm": "1 in", "insertion_b_mm": "1 in", "plus_mm": "0 mm"}
    exact = one.phones["kofi"].post("/api/bench/cut_length", {"inputs": cut, "answer_in": ["in"]}, 200)
    assert exact["result"]["cut_mm"] == {"value": "12", "unit": "in"}
    problem = one.phones["kofi"].post(
        "/api/bench/unequal_legs", {"inputs": inputs, "answer_in": ["stone"]}, 422
    )
    assert problem["params"]["field"] == "answer_in"


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
def test_out_of_range_is_an_error_that_names_its_input(
    one: Garage, inputs: dict[str, str], field: str
) -> None:
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
    # 500 lb on each of two legs at 60° between them: 1000/(2 cos 30°) = 577.35 lb.
    assert main(["calc", "sling_leg", "load_kg=1000 lb", "angle_deg=60 deg", "--in", "lb"]) == 0
    answer = json.loads(capsys.readouterr().out)["result"]
    assert (round(answer["value"], 2), answer["unit"]) == (577.35, "lb")
    assert main(["calc", "sling_leg", "load_kg=1 lb", "angle_deg=60 deg", "--in", "stone"]) == 2
    assert "'stone' is not a unit" in capsys.readouterr().err
    assert main(["calc", "sling_legs"]) == 2
    assert "sling_leg" in capsys.readouterr().err


def test_a_table_at_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Two pulleys of 21 and 6 mm 30 mm apart: 152.492 mm by the closed form. What a row holds is described."""
    assert main(["calc", "belt_path"]) == 0
    told = capsys.readouterr().out
    assert "    radius_mm [mm]: effective; for a back idler" in told
    assert "  wraps, each with:\n    name: the pulley" in told
    rows = [
        {"name": n, "x_mm": f"{x} mm", "y_mm": "0 mm", "radius_mm": f"{r} mm"}
        for n, x, r in (("a", 0, 21), ("b", 30, 6))
    ]
    assert main(["calc", "belt_path", f"pulleys={json.dumps(rows)}"]) == 0
    assert round(json.loads(capsys.readouterr().out)["result"]["length_mm"]["value"], 3) == 152.492
    assert main(["calc", "belt_path", 'pulleys=[{"name"]']) == 2
    assert "pulleys: is not JSON" in capsys.readouterr().err


def test_choices_are_told_at_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody guesses that it is `zinc_dry`; a factor that may be left out is not `None`."""
    assert main(["calc", "plausibility"]) == 0
    told = capsys.readouterr().out
    assert "one of: dry, oiled, zinc_dry, cadmium" in told
    assert "0.05 to 0.6 (else left out)" in told
    assert "  preload_kn [kn]: at the usual one" in told
