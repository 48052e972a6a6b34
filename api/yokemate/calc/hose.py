"""Hose: what it is for, its size when fitted, the clamp for it and how tight, how long to cut it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range


@dataclass(frozen=True)
class Clamp:
    """A clamp as a product: its own range, never its number alone.

    Fields:
        name [-]: as sold
        least_mm [mm]: smallest diameter; 3..500
        most_mm [mm]: largest diameter; 3..500
    """

    name: str
    least_mm: float
    most_mm: float


@dataclass(frozen=True)
class ClampFit:
    """How a clamp suits a hose.

    Fields:
        name [-]: the clamp
        travel_percent [percent]: how far it is opened: 100 is fully open
        good [-]: between 50 and 95 %
        note [-]: what to look out for
    """

    name: str
    travel_percent: float
    good: bool
    note: str


@dataclass(frozen=True)
class CutLength:
    """How long to cut a hose.

    Fields:
        cut_mm [mm]: to aim at, exact
        least_mm [mm]: shortest allowed
        most_mm [mm]: longest allowed
    """

    cut_mm: Fraction
    least_mm: Fraction
    most_mm: Fraction


@dataclass(frozen=True)
class ClampTorque:
    """How tight a worm clamp is made.

    Fields:
        torque_n_m [n_m]: to aim at
        plus_minus_n_m [n_m]: either way; none where the source prints none
    """

    torque_n_m: float
    plus_minus_n_m: float | None


@dataclass(frozen=True)
class FuelHose:
    """What a fuel hose is made for, by the number printed on it.

    Fields:
        use [-]: what it is for
        injection [-]: whether it is made to feed an injection system
        in_tank [-]: whether it is made to lie in fuel
    """

    use: str
    injection: bool
    in_tank: bool


# Band width of the clamp: torque, tolerance on a new hose; the same on one that was clamped before. N·m
_CLAMP_TORQUES: dict[str, tuple[tuple[float, float], tuple[float, float | None]]] = {
    "7.5 mm": ((1.4, 0.3), (0.8, None)),
    "8 mm": ((0.9, 0.2), (0.7, 0.2)),
    "12 mm": ((4.5, 0.7), (3.0, None)),
    "13.5 mm": ((4.5, 0.5), (3.0, 0.5)),
    "14 mm": ((7.5, 1.0), (4.5, None)),
    "16 mm": ((7.5, 0.5), (4.5, 0.5)),
}
# SAE J30 number: use, for the feed of an injection system, for lying in fuel.
_FUEL_HOSES = {
    "R6": ("low pressure, filler and vent", False, False),
    "R7": ("carburettor feed and its return; on no injection system, not even as return", False, False),
    "R9": ("injection feed", True, False),
    "R10": ("inside the tank, lying in fuel; low pressure unless its print says more", False, True),
    "R11": ("filler and vent, low permeation", False, False),
    "R12": ("feed and return, low permeation; low pressure unless its print says more", False, False),
    "R14": ("carburettor feed and return, low permeation", False, False),
}


def fitted_diameter(inside_mm: float, outside_mm: float, spigot_mm: float) -> float:
    """The outside diameter of a hose pushed over a spigot: rubber keeps its volume.

    Formula: OD' = √(B² + OD² - ID²)
    Args:
        inside_mm [mm]: hose inside, as it is sold; 1..300
        outside_mm [mm]: hose outside; 1..400
        spigot_mm [mm]: barb over its ridge; 1..350
    Returns:
        fitted_mm [mm]: outside diameter under the clamp
    Source: constant volume of rubber
    Example:
        >>> round(fitted_diameter(19, 28, 20.2), 2)
        28.83
    """
    check_range("inside_mm", inside_mm, 1, 300)
    check_range("outside_mm", outside_mm, 1, 400)
    check_range("spigot_mm", spigot_mm, 1, 350)
    if outside_mm <= inside_mm:
        raise CalcError("outside_mm", "is not larger than the inside.", "Measure again.")
    if not 0.9 * inside_mm <= spigot_mm <= 1.3 * inside_mm:
        raise CalcError("spigot_mm", "does not suit this hose.", "The size of a hose is its inside diameter.")
    return math.sqrt(spigot_mm**2 + outside_mm**2 - inside_mm**2)


def clamp_largest(number: int) -> Fraction:
    """The largest diameter of a worm clamp by its size number; small sizes break the rule and vary by maker.

    Formula: (N + 8)/16 in, for 6, 8 and 12 upward
    Args:
        number [-]: SAE type F size number; 6..104
    Returns:
        most_mm [mm]: exact
    Source: SAE J1508 type F as product pages of sizes 16 and 28 bear out
    Example:
        >>> float(clamp_largest(16))
        38.1
    """
    check_range("number", number, 6, 104)
    if number not in (6, 8) and (number < 12 or number % 4):
        raise CalcError("number", f"{number} is not a size the rule covers.", "Read the range on the clamp.")
    return Fraction(number + 8, 16) * Fraction("25.4")


def clamp_fit(fitted_mm: float, clamps: Sequence[Clamp]) -> tuple[ClampFit, ...]:
    """How each clamp suits a hose as fitted, best first.

    Formula: travel = (D - least)/(most - least); 50 to 95 % is good, best near 75
    Args:
        fitted_mm [mm]: outside diameter over the spigot; 3..500
        clamps [-]: products with their ranges
    Returns: ClampFit
    Source: two clamp makers' advice (middle of the range; near fully open); 50 to 95 % is common practice
    Example:
        >>> clamp_fit(28.83, [Clamp("12", 14, 32), Clamp("16", 21, 38)])[0].name
        '12'
    """
    check_range("fitted_mm", fitted_mm, 3, 500)
    found = []
    for i, clamp in enumerate(clamps):
        check_range(f"clamps[{i}].least_mm", clamp.least_mm, 3, 500)
        check_range(f"clamps[{i}].most_mm", clamp.most_mm, 3, 500)
        if clamp.most_mm <= clamp.least_mm:
            raise CalcError(
                f"clamps[{i}].most_mm",
                f"{clamp.name}: largest is not above smallest.",
                "Read the range again.",
            )
        travel = (fitted_mm - clamp.least_mm) / (clamp.most_mm - clamp.least_mm) * 100
        if not 0 <= travel <= 100:
            note = "does not reach" if travel > 100 else "does not close far enough"
        else:
            note = "long tail: a snag" if travel < 50 else "almost at its end" if travel > 95 else ""
        found.append(ClampFit(clamp.name, travel, 50 <= travel <= 95, note))
    return tuple(sorted(found, key=lambda fit: abs(fit.travel_percent - 75)))


def clamp_torque(
    band: Literal["7.5 mm", "8 mm", "12 mm", "13.5 mm", "14 mm", "16 mm"], clamped_before: bool = False
) -> ClampTorque:
    """How tight to make a worm clamp by the width of its band; less on a hose that was clamped before.

    Formula: table
    Args:
        band [-]: width of the band
        clamped_before [-]: a hose that is fitted again, or a clamp that is retightened
    Returns: ClampTorque
    Source: an engine maker's torque table (7.5, 12, 14 mm) and a truck maker's manual (8, 13.5, 16 mm); they
        agree but for the narrowest
    Example:
        >>> clamp_torque("12 mm").torque_n_m
        4.5
    """
    check_choice("band", band, tuple(_CLAMP_TORQUES))
    return ClampTorque(*_CLAMP_TORQUES[band][clamped_before])


def fuel_hose(marking: Literal["R6", "R7", "R9", "R10", "R11", "R12", "R14"]) -> FuelHose:
    """What a fuel hose is for, by its SAE J30 number.

    The number is no pressure: read the print. Unmarked hose is refused.

    Formula: table
    Args:
        marking [-]: after 30 or J30 on the hose
    Returns: FuelHose
    Source: SAE J30 (scope), as a trade journal lists its hoses; R7 on no injection system: a hose maker's
        leaflet; R14 not for injection: as sold, 50 psi
    Example:
        >>> fuel_hose("R7").injection
        False
    """
    check_choice("marking", marking, tuple(_FUEL_HOSES))
    return FuelHose(*_FUEL_HOSES[marking])


def push_depth(inside_mm: float) -> float:
    """How far a hose goes on, where there is no stop to push it to.

    Formula: at least 1.5 times the inside diameter, not less than 25 mm
    Args:
        inside_mm [mm]: hose inside; 3..150
    Returns:
        depth_mm [mm]: on each spigot
    Source: common practice
    Example:
        >>> push_depth(19)
        28.5
    """
    check_range("inside_mm", inside_mm, 3, 150)
    return max(1.5 * inside_mm, 25.0)


def cut_length(
    gap_mm: Fraction,
    insertion_a_mm: Fraction,
    insertion_b_mm: Fraction,
    plus_mm: Fraction = Fraction(5),
    minus_mm: Fraction = Fraction(0),
) -> CutLength:
    """How long to cut a hose between two spigots. A long one can be trimmed: the tolerance is +5/-0, never ±
    by default.

    Formula: cut = gap between the stops + both insertions
    Args:
        gap_mm [mm]: between the stops; 0..10000
        insertion_a_mm [mm]: pushed on at one end; 0..500
        insertion_b_mm [mm]: at the other; 0..500
        plus_mm [mm]: allowed longer; 0..100
        minus_mm [mm]: allowed shorter; 0..100
    Returns: CutLength
    Source: geometry; tolerance sense is common practice
    Example:
        >>> float(cut_length(Fraction("187.325"), Fraction("28.575"), Fraction("28.575")).cut_mm)
        244.475
    """
    check_range("gap_mm", gap_mm, 0, 10000)
    check_range("insertion_a_mm", insertion_a_mm, 0, 500)
    check_range("insertion_b_mm", insertion_b_mm, 0, 500)
    check_range("plus_mm", plus_mm, 0, 100)
    check_range("minus_mm", minus_mm, 0, 100)
    cut = gap_mm + insertion_a_mm + insertion_b_mm
    return CutLength(cut, cut - minus_mm, cut + plus_mm)
