"""The revised lifting equation: what one person can lift with both hands in good conditions.

It is an equation for one person. It knows no team, no carrying, no one-handed, seated or kneeling work, no
slippery floor and no unstable load; whoever uses it for a place in a team says so.
"""

from dataclasses import dataclass
from typing import Literal

from yokemate.calc.errors import check_choice, check_range

Coupling = Literal["good", "fair", "poor"]
Duration = Literal["short", "moderate", "long"]
System = Literal["metric", "us"]
LOAD_CONSTANT_KG = 23.0
_INCH_CM, _POUND_KG = 2.54, 0.45359237

# Lifts per minute up to, then multiplier for short, moderate, long work: (V < 75 cm, V >= 75 cm).
_FREQUENCY: tuple[tuple[float, tuple[tuple[float, float], tuple[float, float], tuple[float, float]]], ...] = (
    (0.2, ((1.00, 1.00), (0.95, 0.95), (0.85, 0.85))),
    (0.5, ((0.97, 0.97), (0.92, 0.92), (0.81, 0.81))),
    (1, ((0.94, 0.94), (0.88, 0.88), (0.75, 0.75))),
    (2, ((0.91, 0.91), (0.84, 0.84), (0.65, 0.65))),
    (3, ((0.88, 0.88), (0.79, 0.79), (0.55, 0.55))),
    (4, ((0.84, 0.84), (0.72, 0.72), (0.45, 0.45))),
    (5, ((0.80, 0.80), (0.60, 0.60), (0.35, 0.35))),
    (6, ((0.75, 0.75), (0.50, 0.50), (0.27, 0.27))),
    (7, ((0.70, 0.70), (0.42, 0.42), (0.22, 0.22))),
    (8, ((0.60, 0.60), (0.35, 0.35), (0.18, 0.18))),
    (9, ((0.52, 0.52), (0.30, 0.30), (0.00, 0.15))),
    (10, ((0.45, 0.45), (0.26, 0.26), (0.00, 0.13))),
    (11, ((0.41, 0.41), (0.00, 0.23), (0.00, 0.00))),
    (12, ((0.37, 0.37), (0.00, 0.21), (0.00, 0.00))),
    (13, ((0.00, 0.34), (0.00, 0.00), (0.00, 0.00))),
    (14, ((0.00, 0.31), (0.00, 0.00), (0.00, 0.00))),
    (15, ((0.00, 0.28), (0.00, 0.00), (0.00, 0.00))),
)
_COUPLING = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}


@dataclass(frozen=True)
class Multipliers:
    """The six multipliers and what they allow.

    Fields:
        limit_kg [kg]: recommended weight limit; 0 where the equation allows no lift
        horizontal [-]: HM
        vertical [-]: VM
        travel [-]: DM
        twist [-]: AM
        frequency [-]: FM
        coupling [-]: CM
    """

    limit_kg: float
    horizontal: float
    vertical: float
    travel: float
    twist: float
    frequency: float
    coupling: float


@dataclass(frozen=True)
class LiftingIndex:
    """A load against the recommended limit.

    Fields:
        index [-]: load over limit; none when the limit is 0
        band [-]: very low, low, moderate, high, very high, or not liftable
    """

    index: float | None
    band: str


def weight_limit(
    reach_cm: float,
    height_cm: float,
    vertical_travel_cm: float = 25,
    twist_deg: float = 0,
    rate_per_min: float = 0.2,
    duration: Duration = "short",
    coupling: Coupling = "good",
    system: System = "metric",
) -> Multipliers:
    """The recommended weight limit for one person at one end of a lift; of both ends the lower governs.

    Formula: RWL = 23·HM·VM·DM·AM·FM·CM; HM = 25/H, VM = 1 - 0.003|V - 75|, DM = 0.82 + 4.5/D, AM = 1 - 0.0032
        A
    Args:
        reach_cm [cm]: H, from mid-ankles to mid-hands, level; above 63 nothing is allowed; 0..200
        height_cm [cm]: V, hands above the floor; above 175 nothing is allowed; 0..300
        vertical_travel_cm [cm]: D, how far the hands go up or down (not along the floor); above 175 nothing is allowed; 0..300
        twist_deg [deg]: A, load off the body's front; above 135 nothing is allowed; 0..180
        rate_per_min [per_min]: lifts per minute; between rows the next worse row counts; 0..60
        duration [-]: short up to 1 h, moderate up to 2 h, long up to 8 h
        coupling [-]: the grip
        system [-]: metric constants, or the US ones (10 in, 30 in, 1.8 in, 0.0075, 51 lb), 2 to 3 % apart
    Returns: Multipliers
    Source: DHHS (NIOSH) 94-110, Applications Manual for the Revised Lifting Equation, 1994, revised 9/2021
    Example:
        >>> round(weight_limit(40, 95, 50).limit_kg, 2)
        12.3
    """
    check_range("reach_cm", reach_cm, 0, 200)
    check_range("height_cm", height_cm, 0, 300)
    check_range("vertical_travel_cm", vertical_travel_cm, 0, 300)
    check_range("twist_deg", twist_deg, 0, 180)
    check_range("rate_per_min", rate_per_min, 0, 60)
    check_choice("duration", duration, ("short", "moderate", "long"))
    check_choice("coupling", coupling, tuple(_COUPLING))
    check_choice("system", system, ("metric", "us"))
    # The reach that costs nothing, the best height, the loss per unit of height, the travel constant;
    # all in cm.
    near, best, loss, far = (
        (25.0, 75.0, 0.003, 4.5)
        if system == "metric"
        else (10 * _INCH_CM, 30 * _INCH_CM, 0.0075 / _INCH_CM, 1.8 * _INCH_CM)
    )
    standing = int(height_cm >= best)
    reach_most, height_most = (63.0, 175.0) if system == "metric" else (25 * _INCH_CM, 70 * _INCH_CM)
    horizontal = 0.0 if reach_cm > reach_most else near / max(reach_cm, near)
    vertical = 0.0 if height_cm > height_most else 1 - loss * abs(height_cm - best)
    travel = 0.0 if vertical_travel_cm > height_most else 0.82 + far / max(vertical_travel_cm, near)
    twist = 0.0 if twist_deg > 135 else 1 - 0.0032 * twist_deg
    column = ("short", "moderate", "long").index(duration)
    row = next((factors for most, factors in _FREQUENCY if rate_per_min <= most), None)
    frequency = 0.0 if row is None else row[column][standing]
    grip = _COUPLING[coupling][standing]
    constant = LOAD_CONSTANT_KG if system == "metric" else 51 * _POUND_KG
    limit = constant * horizontal * vertical * travel * twist * frequency * grip
    return Multipliers(limit, horizontal, vertical, travel, twist, frequency, grip)


def lifting_index(load_kg: float, limit_kg: float) -> LiftingIndex:
    """A load against a recommended weight limit.

    Formula: LI = load/RWL; up to 1 very low, 1.5 low, 2 moderate, 3 high, above very high
    Args:
        load_kg [kg]: what the person bears; 0..1000
        limit_kg [kg]: recommended weight limit; 0..23.2
    Returns: LiftingIndex
    Source: NIOSH 94-110; bands as in a current teaching package for safety sums
    Example:
        >>> lifting_index(25, 12.3).band
        'high'
    """
    check_range("load_kg", load_kg, 0, 1000)
    check_range("limit_kg", limit_kg, 0, 23.2)
    if limit_kg == 0:
        return LiftingIndex(None, "not liftable")
    index = load_kg / limit_kg
    for most, band in ((1, "very low"), (1.5, "low"), (2, "moderate"), (3, "high")):
        if index <= most:
            return LiftingIndex(index, band)
    return LiftingIndex(index, "very high")


def burst_rate(rate_per_min: float, burst_min: float) -> float:
    """The rate that counts for work in a burst of less than a quarter of an hour.

    Formula: F = rate·minutes/15
    Args:
        rate_per_min [per_min]: within the burst; 0..60
        burst_min [min]: how long it lasts; 0..15
    Returns:
        rate_per_min [per_min]: to use in the equation
    Source: NIOSH 94-110 (from memory, with its printed answer)
    Example:
        >>> round(burst_rate(10, 8), 2)
        5.33
    """
    check_range("rate_per_min", rate_per_min, 0, 60)
    check_range("burst_min", burst_min, 0, 15)
    return rate_per_min * burst_min / 15
