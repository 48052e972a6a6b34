"""Quantities: the closed list of units offered, exact conversion, numbers as a person types them.

No unit text is parsed except the spellings listed here. Every factor is exact (a fraction), so a figure that
is converted there and back is the same figure. Sources: 1 in = 25.4 mm, 1 lb = 0.45359237 kg (international
yard and pound, 1959); g = 9.80665 m/s2 (3rd CGPM, 1901). The tests hold every factor against two independent
libraries.
"""

import re
from dataclasses import dataclass
from fractions import Fraction


class QuantityError(ValueError):
    """A figure that can't be used: which field, what is wrong, what to do about it."""

    def __init__(self, field: str, message: str, remedy: str) -> None:
        super().__init__(f"{field}: {message} {remedy}".strip())
        self.field = field
        self.message = message
        self.remedy = remedy


@dataclass(frozen=True)
class Unit:
    """One unit offered: value × `factor` + `offset` is the value in the dimension's first unit."""

    id: str
    label: str
    dimension: str
    factor: Fraction
    offset: Fraction = Fraction(0)
    spellings: tuple[str, ...] = ()


@dataclass(frozen=True)
class Quantity:
    """What a person typed: the text as typed, its exact value, its unit."""

    text: str
    value: Fraction
    unit: str

    def to(self, unit: str) -> Fraction:
        """The exact value in another unit of the same dimension."""
        return convert_exact(self.value, self.unit, unit)


_POUND = Fraction("0.45359237")  # kg
_G = Fraction("9.80665")  # m/s2
_INCH = Fraction("25.4")  # mm
_LBF = _POUND * _G  # N


def _units(dimension: str, *rows: tuple[str, str, Fraction | int | str, tuple[str, ...]]) -> list[Unit]:
    return [
        Unit(id_, label, dimension, Fraction(factor), Fraction(0), spellings)
        for id_, label, factor, spellings in rows
    ]


# The first row of each dimension has factor 1. Labels are what screens show; spellings are what else is
# understood.
_ALL: list[Unit] = [
    *_units(
        "torque",
        ("n_m", "N·m", 1, ("Nm", "N m", "N*m", "N.m")),
        (
            "lbf_ft",
            "lbf·ft",
            _LBF * _INCH * 12 / 1000,
            (
                "lbf ft",
                "lb-ft",
                "ft-lb",
                "ft-lbf",
                "lb·ft",
                "ft·lb",
                "lbft",
                "lb ft",
                "ft lb",
                "ft-lbs",
                "ft lbs",
            ),
        ),
        (
            "lbf_in",
            "lbf·in",
            _LBF * _INCH / 1000,
            ("lbf in", "lb-in", "in-lb", "in-lbf", "lb·in", "in·lb", "lb in", "in lb", "in-lbs", "in lbs"),
        ),
        ("ozf_in", "ozf·in", _LBF / 16 * _INCH / 1000, ("ozf in", "oz-in", "in-oz")),
        ("kgf_m", "kgf·m", _G, ("kgf m", "kg-m", "kg·m")),
        ("kgf_cm", "kgf·cm", _G / 100, ("kgf cm", "kg-cm", "kg·cm")),
    ),
    *_units(
        "length",
        ("mm", "mm", 1, ()),
        ("cm", "cm", 10, ()),
        ("m", "m", 1000, ()),
        ("in", "in", _INCH, ('"', "inch", "inches")),
        ("ft", "ft", _INCH * 12, ("foot", "feet")),
    ),
    *_units(
        "distance",  # road distance: no one means a mile of hose
        ("km", "km", 1, ()),
        ("mile", "mile", _INCH * 63360 / 1_000_000, ("mi", "miles")),
    ),
    *_units(
        "mass",
        ("kg", "kg", 1, ()),
        ("g", "g", "0.001", ()),
        ("lb", "lb", _POUND, ("lbs",)),
        ("t", "t (metric)", 1000, ("tonne", "tonnes")),
        ("ton_us", "US ton", _POUND * 2000, ("short ton",)),
    ),
    *_units(
        "force",
        ("n", "N", 1, ()),
        ("kn", "kN", 1000, ()),
        ("lbf", "lbf", _LBF, ()),
        ("kgf", "kgf", _G, ()),
    ),
    *_units(
        "stress",
        ("mpa", "MPa", 1, ("N/mm2", "N/mm²")),
        ("bar", "bar", "0.1", ()),
        ("psi", "psi", _LBF / _INCH**2, ()),
        ("ksi", "ksi", _LBF / _INCH**2 * 1000, ()),
    ),
    *_units(
        "area",
        ("mm2", "mm²", 1, ("sq mm",)),
        ("in2", "in²", _INCH**2, ("sq in",)),
    ),
    *_units("volume", ("l", "L", 1, ("litre", "litres")), ("ml", "mL", "0.001", ())),
    *_units("angle", ("deg", "°", 1, ("degree", "degrees"))),
    *_units(
        "time",
        ("min", "min", 1, ("minute", "minutes")),
        ("s", "s", Fraction(1, 60), ("second", "seconds")),
        ("h", "h", 60, ("hour", "hours")),
        ("day", "day", 1440, ("days",)),
    ),
    *_units("rate", ("per_min", "/min", 1, ()), ("per_h", "/h", Fraction(1, 60), ())),
    *_units("current", ("a", "A", 1, ("amp", "amps"))),
    *_units("voltage", ("v", "V", 1, ("volt", "volts"))),
    *_units("power_per_length", ("w_per_m", "W/m", 1, ())),
    *_units("resistance", ("mohm", "mΩ", 1, ()), ("ohm", "Ω", 1000, ())),
    *_units("resistance_per_length", ("mohm_per_m", "mΩ/m", 1, ("ohm/km", "Ω/km"))),
    *_units("ratio", ("percent", "%", 1, ("per cent",))),
    Unit("deg_c", "°C", "temperature", Fraction(1), Fraction(0), ("C",)),
    Unit("deg_f", "°F", "temperature", Fraction(5, 9), Fraction(-160, 9), ("F",)),
]

UNITS: dict[str, Unit] = {unit.id: unit for unit in _ALL}

_BY_SPELLING: dict[str, Unit] = {
    spelling: unit for unit in _ALL for spelling in (unit.id, unit.label, *unit.spellings)
}


def unit(unit_id: str, field: str = "unit") -> Unit:
    """The unit with this id; QuantityError if it is not one of the list."""
    try:
        return UNITS[unit_id]
    except KeyError:
        raise QuantityError(
            field, f"'{unit_id}' is not a unit that is offered.", f"Choose one of: {', '.join(UNITS)}."
        ) from None


def units_of(dimension: str) -> tuple[Unit, ...]:
    """The units offered for a dimension, the one calculations use first."""
    return tuple(entry for entry in _ALL if entry.dimension == dimension)


def convert_exact(
    value: str | int | Fraction, from_unit: str, to_unit: str, field: str = "value"
) -> Fraction:
    """The exact value in `to_unit`; QuantityError when the two units measure different things."""
    number = parse_number(value, field) if isinstance(value, str) else Fraction(value)
    source, target = unit(from_unit, field), unit(to_unit, field)
    if source.dimension != target.dimension:
        raise QuantityError(
            field,
            f"{source.label} is a {source.dimension}, {target.label} is a {target.dimension}.",
            f"Give it in one of: {', '.join(u.label for u in units_of(target.dimension))}.",
        )
    return (number * source.factor + source.offset - target.offset) / target.factor


MOST_DECIMALS = 12
_DECIMAL = re.compile(r"[+\-−]?(?:[0-9]{1,12}(?:[.,][0-9]{1,12})?|[.,][0-9]{1,12})")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def parse_number(text: str, field: str = "value") -> Fraction:
    """The exact value of a number as typed: `92`, `92,5`, `92.5`, `-3`. No exponents, no thousands marks.

    `1,234` is refused because it may mean two things; `0,125` and `1.234` are decimals.
    """
    stripped = text.strip()
    if not stripped:
        raise QuantityError(field, "nothing was typed.", "Type a number, such as 92.5.")
    bare = stripped.lstrip("+-−")
    if _THOUSANDS.fullmatch(bare):
        raise QuantityError(
            field,
            f"'{stripped}' may mean a thousand or a decimal.",
            f"Type {bare.replace(',', '')} or {bare.replace(',', '.')}.",
        )
    if not _DECIMAL.fullmatch(stripped):
        raise QuantityError(
            field,
            f"'{stripped}' is not a plain number.",
            "Type digits with at most one decimal mark, such as 92.5.",
        )
    return Fraction(stripped.replace("−", "-").replace(",", "."))


_QUANTITY = re.compile(r"([0-9]+/[0-9]+|[+\-−]?[0-9.,]+(?:[ -][0-9]+/[0-9]+)?)\s*(.*)", re.DOTALL)


def parse_quantity(text: str, dimension: str, field: str = "value") -> Quantity:
    """A number with a unit of the closed list: `37 lbf·ft`, `12 7/16 in`. A bare number is refused."""
    offered = ", ".join(u.label for u in units_of(dimension))
    match = _QUANTITY.fullmatch(text.strip())
    if match is None:
        raise QuantityError(field, f"'{text.strip()}' is not a number with a unit.", f"Units: {offered}.")
    number, spelling = match.group(1), match.group(2).strip()
    if not spelling:
        raise QuantityError(field, f"'{number}' has no unit.", f"Say which: {offered}.")
    found = _BY_SPELLING.get(spelling)
    if found is None or found.dimension != dimension:
        raise QuantityError(
            field, f"'{spelling}' is not a unit of {dimension} that is offered.", f"Units: {offered}."
        )
    if "/" in number:
        if found.id != "in":
            raise QuantityError(field, "fractions are for inches only.", "Type a decimal.")
        return Quantity(text, parse_inches(number, field), found.id)
    return Quantity(text, parse_number(number, field), found.id)


_FRACTION = re.compile(r"(?:([0-9]{1,6})[ -])?([0-9]{1,2})/([0-9]{1,2})")
_DENOMINATORS = (2, 4, 8, 16, 32, 64)


def parse_inches(text: str, field: str = "value") -> Fraction:
    """Inches as written in a workshop, exactly: `12 7/16`, `7/16`, `12`, `12.25`; denominators 2 to 64."""
    stripped = text.strip().removesuffix('"').removesuffix("in").strip()
    if "/" not in stripped:
        return parse_number(stripped, field)
    match = _FRACTION.fullmatch(stripped)
    if match is None:
        raise QuantityError(field, f"'{stripped}' is not a length in inches.", "Write it like 12 7/16.")
    whole, top, bottom = match.group(1), int(match.group(2)), int(match.group(3))
    if bottom not in _DENOMINATORS:
        raise QuantityError(
            field, f"an inch is not divided by {bottom} on a rule.", "Use 2, 4, 8, 16, 32 or 64."
        )
    if not 0 < top < bottom:
        raise QuantityError(
            field, f"{top}/{bottom} is not a part of an inch.", "Write whole inches first: 1 1/8."
        )
    return Fraction(int(whole or 0)) + Fraction(top, bottom)


def format_inches(value: Fraction, field: str = "value") -> str:
    """Exact text of a length in inches, such as `12 7/16`; QuantityError when it falls between the 64ths."""
    if value.denominator not in (1, *_DENOMINATORS):
        raise QuantityError(field, f"{value} in is not a whole number of 64ths.", "Round it first.")
    sign, size = ("-" if value < 0 else ""), abs(value)
    whole, part = divmod(size, 1)
    if part == 0:
        return f"{sign}{whole}"
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def nearest_inches(value: Fraction, denominator: int = 64) -> Fraction:
    """The nearest whole number of parts of an inch (half a part rounds up); parts of 1, 2, 4 .. 64."""
    if denominator not in (1, *_DENOMINATORS):
        raise QuantityError(
            "denominator", f"an inch is not divided by {denominator} on a rule.", "Use 1, 2, 4 .. 64."
        )
    return Fraction((value * denominator + Fraction(1, 2)).__floor__(), denominator)


def format_decimal(value: Fraction | int, places: int) -> str:
    """The value with exactly `places` decimals, halves away from zero: 2.5 → `3` at 0 places."""
    scaled = abs(Fraction(value)) * 10**places
    return _digits((scaled + Fraction(1, 2)).__floor__(), places, negative=value < 0)


def round_inward(low: Fraction, high: Fraction, places: int) -> tuple[str, str]:
    """Both ends of a window with `places` decimals, never wider than the exact window.

    A figure with no more than `places` decimals is inside the rounded window exactly when it is inside the
    exact one.
    """
    scale = 10**places
    up, down = (low * scale).__ceil__(), (high * scale).__floor__()
    return _digits(abs(up), places, negative=up < 0), _digits(abs(down), places, negative=down < 0)


def _digits(scaled: int, places: int, *, negative: bool) -> str:
    text = str(scaled).rjust(places + 1, "0")
    if places:
        text = f"{text[:-places]}.{text[-places:]}"
    return f"-{text}" if negative and scaled else text


def exact_decimal(value: Fraction, field: str = "value") -> str:
    """The shortest decimal that is exactly the value; QuantityError when there is none (a third)."""
    remaining, twos, fives = value.denominator, 0, 0
    while remaining % 2 == 0:
        remaining, twos = remaining // 2, twos + 1
    while remaining % 5 == 0:
        remaining, fives = remaining // 5, fives + 1
    if remaining != 1:
        raise QuantityError(field, f"{value} has no exact decimal.", "Keep the fraction, or round it.")
    places = max(twos, fives)
    return _digits(abs(value.numerator) * 10**places // value.denominator, places, negative=value < 0)
