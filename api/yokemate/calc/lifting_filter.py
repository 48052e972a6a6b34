"""The lifting filter: a first look at what one person lifts, carries or pushes. Above it means look closer, not never.

For a load easily grasped with both hands, in reasonable conditions, standing firmly. One's own limit, if lower,
always wins.
"""

import math
from dataclasses import dataclass
from typing import Literal, get_args

from yokemate.calc.errors import check_choice, check_range

Figure = Literal["25 kg", "16 kg"]
Zone = Literal[
    "above shoulder",
    "shoulder to elbow",
    "elbow to knuckle",
    "knuckle to mid lower leg",
    "below mid lower leg",
]
_ZONES: tuple[Zone, ...] = get_args(Zone)
# By zone from the top, kg: hands close to the body, at arm's length.
_FILTER: dict[str, tuple[tuple[float, float], ...]] = {
    "25 kg": ((10, 5), (20, 10), (25, 15), (20, 10), (10, 5)),
    "16 kg": ((7, 3), (13, 7), (16, 10), (13, 7), (7, 3)),
}
# Where one zone ends and the next begins, cm above the floor, from the top; and how far out hands still count as close.
# The filter is a drawing without figures: these are heights of people, the smaller of a mixed crew at the shoulder.
_SHOULDER_CM, _ELBOW_CM, _KNUCKLE_CM, _MID_LOWER_LEG_CM = 124.0, 100.0, 75.0, 30.0
_CLOSE_CM = 30.0
CARRIED_M = 10.0
# By figure, kgf: to start or stop a load, to keep it moving.
_PUSH = {"25 kg": (20.0, 10.0), "16 kg": (15.0, 7.0)}
_ROLLING = {"smooth": 0.02, "uneven": 0.10}


@dataclass(frozen=True)
class Carrying:
    """Whether the filter's figure for lifting holds while the load is carried.

    Fields:
        holds [-]: if not, look closer
        reason [-]: why not, or empty
    """

    holds: bool
    reason: str


@dataclass(frozen=True)
class Rolling:
    """What it takes to roll a load, against the guide for pushing and pulling.

    Fields:
        force_kgf [kgf]: at least this keeps it moving; to start it takes more
        moving_limit_kgf [kgf]: guide for keeping a load moving
        start_limit_kgf [kgf]: guide for starting or stopping one: measure that with a luggage scale
        verdict [-]: within guidance or above guidance, by the force that keeps it moving
    """

    force_kgf: float
    moving_limit_kgf: float
    start_limit_kgf: float
    verdict: str


def zone_figure(
    from_zone: Zone,
    to_zone: Zone,
    arms: Literal["close", "arm's length"] = "close",
    figure: Figure = "25 kg",
) -> float:
    """What the lifting filter gives one person, by the heights hands pass through.

    The smallest of all zones on the way counts.

    Formula: table; least of the zones from one to the other
    Args:
        from_zone [-]: where the hands take the load
        to_zone [-]: where they set it down
        arms [-]: hands close to the body, or at arm's length
        figure [-]: which figure of the filter applies to this person
    Returns:
        zone_kg [kg]: the figure, before cuts for frequency and twist
    Source: HSE L23 and INDG143, lifting and lowering filter (men, women), as a hospital's training booklet
        and a law firm's guide print it
    Example:
        >>> zone_figure("knuckle to mid lower leg", "elbow to knuckle")
        20.0
    """
    check_choice("from_zone", from_zone, _ZONES)
    check_choice("to_zone", to_zone, _ZONES)
    check_choice("arms", arms, ("close", "arm's length"))
    check_choice("figure", figure, tuple(_FILTER))
    first, last = sorted((_ZONES.index(from_zone), _ZONES.index(to_zone)))
    return float(min(row[arms != "close"] for row in _FILTER[figure][first : last + 1]))


def figure_at_heights(
    from_height_cm: float, to_height_cm: float, reach_cm: float = 25, figure: Figure = "25 kg"
) -> float:
    """What the lifting filter gives one person, by hand heights and reach in figures.

    Formula: zones end at 124 (shoulder), 100 (elbow), 75 (knuckle), 30 cm (mid lower leg); close up to 30 cm;
        least of the zones from one height to the other
    Args:
        from_height_cm [cm]: hands above the floor where they take the load; 0..300
        to_height_cm [cm]: hands above the floor where they set it down; 0..300
        reach_cm [cm]: from mid-ankles to mid-hands, level, the farthest on the way; 0..200
        figure [-]: which figure of the filter applies to this person
    Returns:
        zone_kg [kg]: the figure, before cuts for frequency and twist
    Source: HSE L23, whose drawing gives no heights. Shoulder of a small woman (5 in 100) as a chart for work
        places prints it; elbow of an average British woman (Pheasant, from memory); knuckle as in NIOSH 94-110;
        half a tall man's knee height (59.5 cm); close as in the ACGIH limits for lifting
    Example:
        >>> figure_at_heights(75, 165)
        10.0
    """
    check_range("from_height_cm", from_height_cm, 0, 300)
    check_range("to_height_cm", to_height_cm, 0, 300)
    check_range("reach_cm", reach_cm, 0, 200)
    arms: Literal["close", "arm's length"] = "close" if reach_cm <= _CLOSE_CM else "arm's length"
    return zone_figure(_zone_at(from_height_cm), _zone_at(to_height_cm), arms, figure)


def _zone_at(height_cm: float) -> Zone:
    """On a border the hands are in the zone nearer to the waist."""
    if height_cm > _ELBOW_CM:
        return "above shoulder" if height_cm > _SHOULDER_CM else "shoulder to elbow"
    if height_cm >= _KNUCKLE_CM:
        return "elbow to knuckle"
    return "knuckle to mid lower leg" if height_cm >= _MID_LOWER_LEG_CM else "below mid lower leg"


def filter_figure(zone_kg: float, rate_per_min: float = 0, twist_deg: float = 0) -> float:
    """A zone figure of the lifting filter, cut for frequency and twist.

    Formula: up to 0.5/min none, to 2/min -30 %, to 8/min -50 %, above -80 %; twist above 45° -10 %, above 90°
        -20 %
    Args:
        zone_kg [kg]: the filter's figure for the zone (the smallest of all zones passed); 3..25
        rate_per_min [per_min]: lifts per minute; a gap in the guidance takes the next larger cut; 0..60
        twist_deg [deg]: twist of the body; 0..135
    Returns:
        figure_kg [kg]: the figure to hold a share against
    Source: HSE L23 and its leaflet (paras 13-16; twist in a reprint); steps between 2 and 5, 8 and 12 per
        minute are undefined there
    Example:
        >>> filter_figure(25, 2)
        17.5
    """
    check_range("zone_kg", zone_kg, 3, 25)
    check_range("rate_per_min", rate_per_min, 0, 60)
    check_range("twist_deg", twist_deg, 0, 135)
    cut = 0.0 if rate_per_min <= 0.5 else 0.3 if rate_per_min <= 2 else 0.5 if rate_per_min <= 8 else 0.8
    twist = 0.0 if twist_deg <= 45 else 0.1 if twist_deg <= 90 else 0.2
    return zone_kg * (1 - cut) * (1 - twist)


def carrying(distance_m: float, against_body: bool = True, below_knuckle: bool = False) -> Carrying:
    """Whether the lifting filter's figure holds for a load that is carried.

    Formula: held against the body, at most about 10 m without a rest, hands not below the knuckles
    Args:
        distance_m [m]: carried without a rest; 0..1000
        against_body [-]: held against the body
        below_knuckle [-]: hands lower than the knuckles of hanging arms; a frame carried with arms hanging is there
    Returns: Carrying
    Source: HSE L23 and INDG143 (carrying), in two reprints
    Example:
        >>> carrying(12).holds
        False
    """
    check_range("distance_m", distance_m, 0, 1000)
    reasons = []
    if distance_m > CARRIED_M:
        reasons.append("more than about 10 m without a rest")
    if not against_body:
        reasons.append("not held against the body")
    if below_knuckle:
        reasons.append("hands below the knuckles")
    return Carrying(not reasons, "; ".join(reasons))


def rolling(
    load_kg: float,
    slope_deg: float = 0,
    floor: Literal["smooth", "uneven"] = "smooth",
    distance_m: float = 0,
    figure: Figure = "25 kg",
) -> Rolling:
    """What it takes to push a load on wheels, against what one person should push.

    Hands between knuckles and shoulders, at most about 20 m without a rest: farther is refused.

    Formula: F = W·(r·cos a + sin a), r = 0.02 on a smooth floor with good wheels, up to 0.10 on an uneven one
    Args:
        load_kg [kg]: load, dolly and all; 1..5000
        slope_deg [deg]: upward; 0..20
        floor [-]: what it rolls on
        distance_m [m]: pushed without a rest; 0..20
        figure [-]: which figure of the filter applies to this person
    Returns: Rolling
    Source: HSE L23 and its page on pushing and pulling (start or stop 20, 15 kgf; keep moving 10, 7; at least
        2 % of the load, up to 10 % on uneven ground)
    Example:
        >>> rolling(400).force_kgf
        8.0
    """
    check_range("load_kg", load_kg, 1, 5000)
    check_range("slope_deg", slope_deg, 0, 20)
    check_choice("floor", floor, tuple(_ROLLING))
    check_range("distance_m", distance_m, 0, 20)
    check_choice("figure", figure, tuple(_PUSH))
    slope = math.radians(slope_deg)
    force = load_kg * (_ROLLING[floor] * math.cos(slope) + math.sin(slope))
    start, moving = _PUSH[figure]
    return Rolling(force, moving, start, "within guidance" if force <= moving else "above guidance")
