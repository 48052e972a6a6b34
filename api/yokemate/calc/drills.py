"""Twist drills by fraction, number, letter and millimetre: the nearest to a hole, and a gauge for a gap."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range
from yokemate.units import format_inches

# Ten-thousandths of an inch, #1 to #80, then A to Z. ASME B94.11M as two open data files print it.
_NUMBERS = (
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, 1910, 1890, 1850, 1820, 1800, 1770,
    1730, 1695, 1660, 1610, 1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, 1200, 1160,
    1130, 1110, 1100, 1065, 1040, 1015, 995, 980, 960, 935, 890, 860, 820, 810, 785, 760, 730, 700,
    670, 635, 595, 550, 520, 465, 430, 420, 410, 400, 390, 380, 370, 360, 350, 330, 320, 310, 292,
    280, 260, 250, 240, 225, 210, 200, 180, 160, 145, 135,
)  # fmt: skip
_LETTERS = (
    2340, 2380, 2420, 2460, 2500, 2570, 2610, 2660, 2720, 2770, 2810, 2900, 2950, 3020, 3160, 3230,
    3320, 3390, 3480, 3580, 3680, 3770, 3860, 3970, 4040, 4130,
)  # fmt: skip

DRILLS: dict[str, Fraction] = {
    **{f"#{i}": Fraction(size, 10000) for i, size in enumerate(_NUMBERS, 1)},
    **{chr(ord("A") + i): Fraction(size, 10000) for i, size in enumerate(_LETTERS)},
    **{format_inches(Fraction(i, 64)): Fraction(i, 64) for i in range(1, 64)},
    "1 in": Fraction(1),  # a bare 1 would be read as #1
}
_INCH = Fraction("25.4")
_TENTHS_MM = (
    *range(3, 101),
    *range(105, 251, 5),
)  # the common series: every 0.1 mm to 10, every 0.5 mm to 25
_METRIC_NAME = re.compile(r"([0-9]{1,2}(?:\.[0-9]+)?) ?mm")
_BARE = re.compile(r"[0-9]{1,2}(?:\.[0-9]+)?")

Series = Literal["inch", "metric", "both"]


@dataclass(frozen=True)
class Drill:
    """A drill and how far it is off.

    Fields:
        name [-]: 7/32, #22, Q or 5.5 mm (of equal sizes the fraction)
        diameter_mm [mm]: its size, exact
        error_mm [mm]: its size minus the one asked for
    """

    name: str
    diameter_mm: Fraction
    error_mm: Fraction


@dataclass(frozen=True)
class GapGauge:
    """Two drills as a gauge.

    Fields:
        go [-]: must enter
        go_mm [mm]: its size
        no_go [-]: must not
        no_go_mm [mm]: its size
    """

    go: str
    go_mm: Fraction
    no_go: str
    no_go_mm: Fraction


def drill_size(name: str) -> Fraction:
    """The size of a drill by its name.

    A bare figure is refused: 7 may be #7 or 7 mm, which are 1.9 mm apart.

    Formula: table
    Args:
        name [-]: a 64th like 7/32, a number like #22, a letter like Q, or millimetres like 5.5 mm
    Returns:
        diameter_mm [mm]: exact
    Source: ASME B94.11M as two open data files print it; E is 1/4 in. Metric: every 0.1 mm from 0.3 to 10, every
        0.5 mm to 25 (common practice)
    Example:
        >>> float(drill_size("#7"))
        5.1054
    """
    said = " ".join(name.replace(",", ".").split())
    if metric := _METRIC_NAME.fullmatch(said.lower()):
        size = Fraction(metric[1])
        if size * 10 not in _TENTHS_MM:
            raise CalcError(
                "name", f"{said} is not a common drill.", "Every 0.1 mm from 0.3 to 10, every 0.5 mm to 25."
            )
        return size
    if _BARE.fullmatch(said):
        number = f"#{said}, " if f"#{said}" in DRILLS else ""
        raise CalcError(
            "name",
            f"'{said}' may be {number}{said} mm or inches.",
            f"Write {number}{said} mm, or a fraction like 7/32.",
        )
    found = DRILLS.get(said.upper().replace("IN", "in"))
    if found is None:
        raise CalcError(
            "name", f"'{name}' is not a drill of the table.", "Write it like 7/32, #22, Q or 5.5 mm."
        )
    return found * _INCH


def nearest_drill(diameter_mm: Fraction, series: Series = "inch") -> Drill:
    """The drill nearest to a diameter.

    Formula: least |size - diameter|; of two equally near the smaller
    Args:
        diameter_mm [mm]: wanted; 0.34..25.4
        series [-]: which drills there are: inch, metric, or both
    Returns: Drill
    Source: ASME B94.11M; the metric series is common practice
    Example:
        >>> nearest_drill(Fraction("5.5")).name
        '7/32'
    """
    check_range("diameter_mm", diameter_mm, Fraction("0.34"), Fraction("25.4"))
    size, name = min(_sizes(series), key=lambda drill: (abs(drill[0] - diameter_mm), drill[0]))
    return Drill(name, size, size - diameter_mm)


def gap_gauge(low_mm: Fraction, high_mm: Fraction, series: Series = "inch") -> GapGauge:
    """Two drills to gauge a gap: chosen inward, so that no bad gap passes.

    Formula: go = smallest drill at or above the low limit; no-go = largest at or below the high limit
    Args:
        low_mm [mm]: least gap allowed; 0.3..25
        high_mm [mm]: greatest gap allowed; 0.3..25
        series [-]: which drills there are: inch, metric, or both
    Returns: GapGauge
    Source: gauge practice: inward choice may refuse a good gap, never pass a bad one
    Example:
        >>> gap_gauge(Fraction("0.889"), Fraction("1.143")).no_go
        '#57'
    """
    check_range("low_mm", low_mm, Fraction("0.3"), 25)
    check_range("high_mm", high_mm, Fraction("0.3"), 25)
    inside = [(size, name) for size, name in _sizes(series) if low_mm <= size <= high_mm]
    go, no_go = min(inside, default=None, key=_by_size), max(inside, default=None, key=_by_size)
    if go is None or no_go is None or go[0] == no_go[0]:
        raise CalcError("high_mm", "no two drills lie between the limits.", "Use feeler gauges.")
    return GapGauge(go[1], go[0], no_go[1], no_go[0])


def _by_size(drill: tuple[Fraction, str]) -> Fraction:
    return drill[0]


def _sizes(series: Series) -> list[tuple[Fraction, str]]:
    """Size in mm and name of every drill of the series; of equal sizes the fraction stands first."""
    check_choice("series", series, ("inch", "metric", "both"))
    inch = [(size * _INCH, name) for name, size in DRILLS.items()]
    metric = [(Fraction(tenths, 10), f"{tenths / 10:g} mm") for tenths in _TENTHS_MM]
    inch.sort(key=lambda drill: "/" not in drill[1])
    return {"inch": inch, "metric": metric, "both": inch + metric}[series]
