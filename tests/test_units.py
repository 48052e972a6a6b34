"""Units: exact factors, numbers as typed, fractions of an inch, decimals."""

from fractions import Fraction

import pint
import pytest
import scipy.constants as physical
from hypothesis import given
from hypothesis import strategies as st

from yokemate.units import (
    UNITS,
    QuantityError,
    convert_exact,
    exact_decimal,
    format_decimal,
    format_inches,
    nearest_inches,
    parse_inches,
    parse_number,
    parse_quantity,
    round_inward,
    units_of,
)

# Our ids in the spelling of pint's definition file (pint 0.25, from its own "default_en.txt").
PINT = {
    "n_m": "newton * meter",
    "lbf_ft": "force_pound * foot",
    "lbf_in": "force_pound * inch",
    "ozf_in": "force_ounce * inch",
    "kgf_m": "force_kilogram * meter",
    "kgf_cm": "force_kilogram * centimeter",
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "in": "inch",
    "ft": "foot",
    "km": "kilometer",
    "mile": "mile",
    "kg": "kilogram",
    "g": "gram",
    "lb": "pound",
    "t": "metric_ton",
    "ton_us": "ton",
    "n": "newton",
    "kn": "kilonewton",
    "lbf": "force_pound",
    "kgf": "force_kilogram",
    "mpa": "megapascal",
    "bar": "bar",
    "psi": "force_pound / inch ** 2",
    "ksi": "kilopsi",
    "mm2": "millimeter ** 2",
    "in2": "inch ** 2",
    "l": "liter",
    "ml": "milliliter",
    "deg": "degree",
    "min": "minute",
    "s": "second",
    "h": "hour",
    "day": "day",
    "per_min": "1 / minute",
    "per_h": "1 / hour",
    "a": "ampere",
    "v": "volt",
    "w_per_m": "watt / meter",
    "mohm": "milliohm",
    "ohm": "ohm",
    "mohm_per_m": "milliohm / meter",
    "percent": "percent",
}


def test_every_factor_is_pints() -> None:
    """Each factor of the closed list agrees with pint's own definitions; temperatures are tested by hand."""
    registry = pint.UnitRegistry()

    assert set(UNITS) == {*PINT, "deg_c", "deg_f"}
    for unit_id, spelled in PINT.items():
        first = units_of(UNITS[unit_id].dimension)[0]
        expected = registry.Quantity(1, spelled).to(PINT[first.id]).magnitude
        assert float(UNITS[unit_id].factor) == pytest.approx(expected, rel=1e-12), unit_id


@pytest.mark.parametrize(
    ("unit_id", "expected"),
    [
        ("lbf_ft", physical.pound_force * physical.foot),
        ("lbf_in", physical.pound_force * physical.inch),
        ("lbf", physical.pound_force),
        ("kgf", physical.kilogram_force),
        ("psi", physical.psi / 1e6),
        ("lb", physical.pound),
        ("ton_us", physical.short_ton),
        ("in", physical.inch * 1000),
        ("mile", physical.mile / 1000),
    ],
)
def test_factor_is_scipys(unit_id: str, expected: float) -> None:
    """The inch and pound factors agree with scipy.constants, a second independent table."""
    assert float(UNITS[unit_id].factor) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "from_unit", "to_unit", "expected", "rel"),
    [
        pytest.param("1", "lbf_ft", "n_m", 1.3558179483, 1e-9, id="U1"),
        pytest.param("1", "lbf_in", "n_m", 0.11298482903, 1e-9, id="U2"),
        pytest.param("1", "ozf_in", "n_m", 0.0070615518142, 1e-9, id="U3"),
        pytest.param("1", "kgf_m", "n_m", 9.80665, 0, id="U4-m"),
        pytest.param("1", "kgf_cm", "n_m", 0.0980665, 0, id="U4-cm"),
        pytest.param("1", "n_m", "lbf_ft", 0.73756215, 1e-8, id="U5-ft"),
        pytest.param("1", "n_m", "lbf_in", 8.8507458, 1e-8, id="U5-in"),
        pytest.param("1", "lbf", "n", 4.4482216153, 1e-8, id="U6-lbf"),
        pytest.param("1", "psi", "mpa", 0.006894757293, 1e-8, id="U6-psi"),
        pytest.param("1", "ksi", "mpa", 6.894757, 1e-7, id="U6-ksi"),
        pytest.param("1", "in2", "mm2", 645.16, 0, id="U6-in2"),
        pytest.param("37", "lbf_ft", "n_m", 50.165, 2e-5, id="U7-37"),
        pytest.param("74", "lbf_ft", "n_m", 100.331, 1e-5, id="U7-74"),
        pytest.param("100", "lbf_ft", "n_m", 135.582, 1e-5, id="U7-100"),
        pytest.param("160", "lbf_in", "n_m", 18.08, 6e-4, id="U8-low"),
        pytest.param("190", "lbf_in", "n_m", 21.47, 6e-4, id="U8-high"),
        pytest.param("160", "lbf_in", "lbf_ft", 13.33, 8e-4, id="U8-ft"),
        pytest.param("0.5", "ton_us", "kg", 453.59, 1e-5, id="E2"),
    ],
)
def test_published_conversions(text: str, from_unit: str, to_unit: str, expected: float, rel: float) -> None:
    """Conversions come out as the exact definitions print them (NIST-style definitions of inch and pound)."""
    assert float(convert_exact(text, from_unit, to_unit)) == pytest.approx(expected, rel=rel, abs=0)


def test_temperature_has_an_offset() -> None:
    """Degrees Fahrenheit come out exactly: brake fluid minima 401, 446, 500 °F (49 CFR 571.116,
    both units).
    """
    assert [convert_exact(c, "deg_c", "deg_f") for c in (205, 230, 260, 100)] == [401, 446, 500, 212]


@given(
    st.fractions(max_denominator=10**6),
    st.sampled_from(
        [(a.id, b.id) for a in UNITS.values() for b in UNITS.values() if a.dimension == b.dimension]
    ),
)
def test_there_and_back(value: Fraction, pair: tuple[str, str]) -> None:
    """R16: converting there and back gives the very same figure."""
    assert convert_exact(convert_exact(value, *pair), pair[1], pair[0]) == value


def test_torque_is_not_energy_nor_mass() -> None:
    """Units of different things never convert, and an unknown unit is named."""
    with pytest.raises(QuantityError, match="N·m is a torque, kg is a mass"):
        convert_exact(1, "n_m", "kg")
    with pytest.raises(QuantityError, match="'newton' is not a unit"):
        convert_exact(1, "newton", "n")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("92", "92"),
        ("92,5", "185/2"),
        ("92.5", "185/2"),
        (" 7 ", "7"),
        ("-3.25", "-13/4"),
        ("−3", "-3"),
        ("0,125", "1/8"),
        (".5", "1/2"),
        ("1.234", "617/500"),
        ("12345,6", "61728/5"),
    ],
)
def test_numbers_as_typed(text: str, expected: str) -> None:
    """R16: a number typed with a point or a comma is read exactly."""
    assert parse_number(text) == Fraction(expected)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "  ",
        "1e5",
        "1E5",
        "1,000",
        "12,345",
        "1.000,5",
        "1,000.5",
        "1 000",
        "NaN",
        "inf",
        "0x10",
        "1_000",
        "٣",
        "5.",
        "--1",
        "1/3",
        "12 mm",
        "1" * 13,
    ],
)
def test_what_is_no_plain_number(text: str) -> None:
    """R32: what may mean two things, or no number, is refused and names the field."""
    with pytest.raises(QuantityError) as refused:
        parse_number(text, "target")

    assert refused.value.field == "target"
    assert refused.value.remedy


def test_a_bare_number_is_refused() -> None:
    """R32: "74" without a unit could be N·m or lbf·ft, so it is refused and both are offered."""
    with pytest.raises(QuantityError, match=r"'74' has no unit\. Say which: N·m, lbf·ft"):
        parse_quantity("74", "torque", "target")


@pytest.mark.parametrize(
    ("text", "dimension", "unit_id", "value"),
    [
        ("74 lbf·ft", "torque", "lbf_ft", Fraction(74)),
        ("74 ft-lb", "torque", "lbf_ft", Fraction(74)),
        ("74 ft-lbs", "torque", "lbf_ft", Fraction(74)),
        ("74 lb ft", "torque", "lbf_ft", Fraction(74)),
        ("120 in lbs", "torque", "lbf_in", Fraction(120)),
        ("100Nm", "torque", "n_m", Fraction(100)),
        ("92,5 N·m", "torque", "n_m", Fraction(185, 2)),
        ("12 7/16 in", "length", "in", Fraction(199, 16)),
        ('7/16"', "length", "in", Fraction(7, 16)),
        ("-40 °F", "temperature", "deg_f", Fraction(-40)),
        ("37 n_m", "torque", "n_m", Fraction(37)),
    ],
)
def test_quantities_as_typed(text: str, dimension: str, unit_id: str, value: Fraction) -> None:
    """A number with a unit of the closed list keeps its text, value and unit."""
    quantity = parse_quantity(text, dimension)

    assert (quantity.text, quantity.unit, quantity.value) == (text, unit_id, value)


@pytest.mark.parametrize(
    "text", ["74 J", "74 newton meter", "74 mm", "N·m", "1/2 N·m", "7/16 mm", "1e2 N·m", "74 lb", "7/12 in"]
)
def test_no_other_unit_text_is_understood(text: str) -> None:
    """Only spellings of the list are read: a joule, a bare pound or a twelfth of an inch is no torque or
    length.
    """
    for dimension in ("torque",) if "in" not in text and "7/16" not in text else ("length",):
        with pytest.raises(QuantityError):
            parse_quantity(text, dimension)


def test_spellings_do_not_collide() -> None:
    """No spelling means two units."""
    seen = [s for u in UNITS.values() for s in {u.id, u.label, *u.spellings}]

    assert len(seen) == len(set(seen))


@pytest.mark.parametrize("text", ["5 7/16", "2 21/32", "8 3/32", "11 13/64", "15 3/8", "1/64", "12", "63/64"])
def test_inches_round_trip(text: str) -> None:
    """H12: a length in inches is read and printed exactly, in lowest terms."""
    assert format_inches(parse_inches(text)) == text


@given(st.integers(min_value=-64 * 200, max_value=64 * 200))
def test_every_64th_round_trips(parts: int) -> None:
    """H12: every whole number of 64ths prints so that it reads back the same."""
    value = Fraction(parts, 64)
    sign = -1 if value < 0 else 1

    assert sign * parse_inches(format_inches(value).removeprefix("-")) == value


def test_inch_sums_stay_exact() -> None:
    """H12: 5 7/16 + 2 21/32 = 8 3/32 in, 205.581 mm; 11 13/64 in = 284.559 mm."""
    total = parse_inches("5 7/16") + parse_inches("2 21/32")

    assert format_inches(total) == "8 3/32"
    assert format_decimal(convert_exact(total, "in", "mm"), 3) == "205.581"
    assert format_decimal(convert_exact(parse_inches("11 13/64"), "in", "mm"), 3) == "284.559"


def test_inches_refused() -> None:
    """Only denominators of a rule, only proper parts, and nothing between the 64ths is printed."""
    for text in ("1/3", "9/8", "1 0/4", "1/128", "1 1 1/2", "", "a/b"):
        with pytest.raises(QuantityError):
            parse_inches(text)
    with pytest.raises(QuantityError, match="not a whole number of 64ths"):
        format_inches(Fraction(1, 3))
    with pytest.raises(QuantityError):
        nearest_inches(Fraction(1), 10)


def test_nearest_inches_of_metric() -> None:
    """H12: 137 mm is 5 25/64 in (-0.078 mm); 250 mm is 9 27/32 in (+0.031 mm); worst error 0.198 mm."""
    for mm, text, error in ((137, "5 25/64", "-0.078"), (250, "9 27/32", "0.031")):
        nearest = nearest_inches(convert_exact(mm, "mm", "in"))
        assert format_inches(nearest) == text
        assert format_decimal(convert_exact(nearest, "in", "mm") - mm, 3) == error
    worst = max(
        abs(
            convert_exact(nearest_inches(Fraction(k, 6400)), "in", "mm")
            - Fraction(k, 6400) * Fraction("25.4")
        )
        for k in range(200)
    )
    assert format_decimal(worst, 3) == "0.198"


@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [
        ("5/2", 0, "3"),
        ("-5/2", 0, "-3"),
        ("1/3", 3, "0.333"),
        ("2/3", 3, "0.667"),
        ("-1/1000", 2, "0.00"),
        ("7", 2, "7.00"),
        ("1/8", 2, "0.13"),
        ("199/16", 4, "12.4375"),
    ],
)
def test_fixed_places(value: str, places: int, expected: str) -> None:
    """A decimal has exactly the places asked for; halves go away from zero."""
    assert format_decimal(Fraction(value), places) == expected


def test_exact_decimals() -> None:
    """A figure prints as its exact decimal or not at all."""
    assert exact_decimal(Fraction(185, 2)) == "92.5"
    assert exact_decimal(Fraction(-1, 8)) == "-0.125"
    assert exact_decimal(Fraction(40)) == "40"
    with pytest.raises(QuantityError, match="no exact decimal"):
        exact_decimal(Fraction(1, 3))


@given(
    st.fractions(min_value=-1000, max_value=1000, max_denominator=977),
    st.fractions(min_value=0, max_value=50, max_denominator=977),
    st.integers(min_value=-1100_00, max_value=1100_00),
)
def test_rounding_inward_decides_the_same(low: Fraction, width: Fraction, typed: int) -> None:
    """R12: for a figure of no more decimals, the rounded window says the same as the exact one."""
    shown_low, shown_high = round_inward(low, low + width, 2)
    figure = Fraction(typed, 100)

    assert (Fraction(shown_low) <= figure <= Fraction(shown_high)) == (low <= figure <= low + width)
