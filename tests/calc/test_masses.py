"""Usual masses against the pages that print them (5-lifts 9): they warn, and fill nothing in."""

from typing import get_args

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.masses import Part, usual_mass

# Printed: an engine of four cylinders 136 to 181 kg (a page of sizes) and 113 to 159 (a parts trade, as is the gearbox), a
# battery 16 to 20 (a dealer), a small two-seat donor 960 to 1040 (a car data page).
PRINTED: list[tuple[Part, float, float]] = [
    ("four-cylinder engine", 136, 181),
    ("four-cylinder engine", 113, 159),
    ("manual gearbox", 34, 57),
    ("battery", 16, 20),
    ("small two-seat donor, whole", 960, 1040),
]
# Common practice, unverified.
PRACTICE: list[tuple[Part, float, float]] = [
    ("bare tube frame", 55, 115),
    ("engine with transaxle", 150, 220),
    ("seat", 12, 25),
    ("wheel with tyre", 13, 20),
    ("body panel", 3, 15),
    ("windscreen", 10, 16),
    ("petrol tank", 5, 10),
]


@pytest.mark.parametrize(("part", "low", "high"), PRINTED + PRACTICE)
def test_what_is_printed_is_usual_and_well_outside_is_not(part: Part, low: float, high: float) -> None:
    for mass in (low, high, (low + high) / 2):
        assert usual_mass(part, mass).verdict == "usual"
    found = usual_mass(part, low)
    assert usual_mass(part, found.low_kg - 0.01).verdict == "lighter than usual"
    assert usual_mass(part, found.high_kg + 0.01).verdict == "heavier than usual"
    assert (found.known_from == "printed") == ((part, low, high) in PRINTED)


def test_the_ranges_are_no_wider_than_what_is_printed_of_each() -> None:
    for part in get_args(Part):
        printed = [(low, high) for one, low, high in PRINTED + PRACTICE if one == part]
        found = usual_mass(part, 1)
        assert (found.low_kg, found.high_kg) == (min(p[0] for p in printed), max(p[1] for p in printed))


def test_petrol_weighs_three_quarters_of_a_kilogram_per_litre() -> None:
    """45 L are 33.75 kg, which the trade rounds to 34: a tank of 5 to 10 kg is then 38.75 to 43.75."""
    full = usual_mass("petrol tank", 41, 45)
    assert (full.verdict, full.low_kg, full.high_kg) == ("usual", 38.75, 43.75)
    assert usual_mass("petrol tank", 41).verdict == "heavier than usual"


@pytest.mark.parametrize(
    ("arguments", "field"),
    [(("boat", 1), "part"), (("seat", 0), "mass_kg"), (("seat", 5001), "mass_kg"), (("seat", 15, 201), "petrol_l")],
)  # fmt: skip
def test_what_is_not_in_the_table_is_refused(arguments: tuple[Part, float], field: str) -> None:
    """R32."""
    with pytest.raises(CalcError) as refused:
        usual_mass(*arguments)
    assert refused.value.field == field
