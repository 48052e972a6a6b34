"""Coolant and brake fluid: what a mix bears, how to correct it, in which order to bleed."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range

# Percent by volume: freezing point °C. CoolProp 8.0.0 (AEG, APG), its sources. A straight line promises more than the curve
# between rows: no row is so far from the next that it is more than 0.2 °C.
_FREEZE: dict[str, tuple[tuple[float, float], ...]] = {
    "ethylene": (
        (20, -9.0),
        (25, -12.1),
        (30, -15.7),
        (33, -18.1),
        (40, -24.8),
        (45, -30.5),
        (50, -37.1),
        (55, -44.4),
        (60, -52.0),
    ),
    "propylene": ((30, -13.1), (35, -16.9), (40, -21.5), (45, -27.0), (50, -33.7)),
}
# Minimum boiling point °C: dry, wet (3.7 % water). 49 CFR 571.116
_BOIL = {"DOT 3": (205, 140), "DOT 4": (230, 155), "DOT 5": (260, 180), "DOT 5.1": (260, 180)}


@dataclass(frozen=True)
class BrakeFluid:
    """A class of brake fluid.

    Fields:
        dry_deg_c [deg_c]: least boiling point, new
        wet_deg_c [deg_c]: least boiling point with 3.7 % water
        note [-]: what it may be mixed with
    """

    dry_deg_c: float
    wet_deg_c: float
    note: str


def coolant_freeze(percent_by_volume: float, glycol: Literal["ethylene", "propylene"] = "ethylene") -> float:
    """The freezing point of a coolant mix; brands differ, the refractometer on the day is the record.

    Formula: straight line between the table's rows; above its last row protection may fall again, so it is
        refused
    Args:
        percent_by_volume [percent]: neat coolant in the mix, by volume not by mass; 20..60
        glycol [-]: kind; propylene 30 to 50 % only
    Returns:
        freeze_deg_c [deg_c]: about
    Source: CoolProp 8.0.0 (AEG, APG); an equipment maker's table agrees within 1 °C for ethylene glycol
    Example:
        >>> coolant_freeze(50)
        -37.1
    """
    check_choice("glycol", glycol, tuple(_FREEZE))
    rows = _FREEZE[glycol]
    check_range("percent_by_volume", percent_by_volume, rows[0][0], rows[-1][0])
    for (p, a), (q, b) in itertools.pairwise(rows):
        if percent_by_volume <= q:
            return a + (b - a) * (percent_by_volume - p) / (q - p)
    raise AssertionError("the range was checked")


def refill_neat(system_l: float, percent_now: float, percent_wanted: float) -> float:
    """How much to drain and refill with neat coolant.

    Formula: x = V·(c2 - c1)/(1 - c1)
    Args:
        system_l [l]: the whole fill; 0.5..50
        percent_now [percent]: by volume; 0..70
        percent_wanted [percent]: by volume; 0..70
    Returns:
        neat_l [l]: drained, then poured in neat
    Source: balance of volumes
    Example:
        >>> round(refill_neat(6.4, 30, 50), 3)
        1.829
    """
    check_range("system_l", system_l, 0.5, 50)
    check_range("percent_now", percent_now, 0, 70)
    check_range("percent_wanted", percent_wanted, 0, 70)
    if percent_wanted < percent_now:
        raise CalcError("percent_wanted", "is weaker than it is now.", "Top up with water instead.")
    return system_l * (percent_wanted - percent_now) / (100 - percent_now)


def topped_up(system_l: float, percent: float, water_l: float) -> float:
    """What a fill becomes when part of it was made up with plain water.

    Formula: c·(V - w)/V
    Args:
        system_l [l]: the whole fill; 0.5..50
        percent [percent]: of the rest, by volume; 0..70
        water_l [l]: plain water in it; 0..50
    Returns:
        mix_percent [percent]: by volume
    Source: balance of volumes
    Example:
        >>> round(topped_up(5.8, 50, 0.9), 1)
        42.2
    """
    check_range("system_l", system_l, 0.5, 50)
    check_range("percent", percent, 0, 70)
    check_range("water_l", water_l, 0, system_l)
    return percent * (system_l - water_l) / system_l


def brake_fluid(fluid: Literal["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]) -> BrakeFluid:
    """The least boiling points of a class of brake fluid.

    Formula: table
    Args:
        fluid [-]: as on the can
    Returns: BrakeFluid
    Source: 49 CFR 571.116, as two oil makers print it
    Example:
        >>> brake_fluid("DOT 4").wet_deg_c
        155
    """
    check_choice("fluid", fluid, tuple(_BOIL))
    note = "Silicone: never mixed with the others." if fluid == "DOT 5" else "Glycol: never mixed with DOT 5."
    return BrakeFluid(*_BOIL[fluid], note)


def bleed_order(pipe_lengths_mm: Sequence[float]) -> tuple[int, ...]:
    """In which order to bleed the wheels: longest pipe first, by this build's own pipe lengths.

    A diagonal split, an ABS unit or a remote master cylinder changes it: the manual rules.

    Formula: lengths from the master cylinder, falling
    Args:
        pipe_lengths_mm [mm]: one per wheel; 10..20000
    Returns:
        wheels [-]: numbers as given, 1 first, in bleeding order
    Source: two repair guides (longest line first)
    Example:
        >>> bleed_order([640, 760, 2550, 2860])
        (4, 3, 2, 1)
    """
    if not 1 <= len(pipe_lengths_mm) <= 8:
        raise CalcError("pipe_lengths_mm", "give one to eight lengths.", "Take them from the cut list.")
    for length in pipe_lengths_mm:
        check_range("pipe_lengths_mm", length, 10, 20000)
    return tuple(sorted(range(1, len(pipe_lengths_mm) + 1), key=lambda i: (-pipe_lengths_mm[i - 1], i)))
