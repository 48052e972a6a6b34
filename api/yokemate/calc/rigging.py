"""Slings, shackles, eye bolts, engine cranes and stands.

The hook pulls straight up over the centre of gravity. A maker's marking always rules; nobody stands beneath,
ever.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range


@dataclass(frozen=True)
class Legs:
    """Tension in two legs, as the mass that would pull as hard.

    Fields:
        near_kg [kg]: leg whose foot is nearer under the hook (the steeper, it carries more)
        far_kg [kg]: the other leg
        near_deg [deg]: its angle to the horizontal
        far_deg [deg]: likewise
    """

    near_kg: float
    far_kg: float
    near_deg: float
    far_deg: float


@dataclass(frozen=True)
class CraneTip:
    """Whether a crane stays on its feet: extra to its rating.

    Fields:
        ratio [-]: stabilising over overturning moment about the front casters; none when the hook is behind
            them
        enough [-]: at least 1.5 (a threshold of this project)
        front_kg [kg]: on the front casters; when it tips, all of it
        rear_kg [kg]: on the rear casters; when it tips, nothing
    """

    ratio: float | None
    enough: bool
    front_kg: float
    rear_kg: float


def sling_leg(load_kg: float, angle_deg: float, legs: int = 2, rigid: bool = True) -> float:
    """Tension in each leg of a symmetric sling.

    Formula: T = W/(n·sin b), b to the horizontal; a rigid load on three or four legs counts two
    Args:
        load_kg [kg]: the load; 0..20000
        angle_deg [deg]: leg to the horizontal; below 30 is refused; 30..90
        legs [-]: legs fitted; 1..4
        rigid [-]: true for a frame or an engine; false only with gear that evens the legs out
    Returns:
        leg_kg [kg]: tension as the mass that would pull as hard
    Picture: sling
    Source: rigging handbooks' 1/sin b; floor of 30° ASME B30.9/B30.26; counting two: US Navy training text
        NAVEDTRA 14081
    Example:
        >>> round(sling_leg(186, 45), 1)
        131.5
    """
    check_range("load_kg", load_kg, 0, 20000)
    check_range("angle_deg", angle_deg, 30, 90)
    check_range("legs", legs, 1, 4)
    if legs == 1 and angle_deg != 90:
        raise CalcError("angle_deg", "a single leg hangs straight.", "Give 90°, or count the legs again.")
    counted = min(legs, 2) if rigid else legs
    return load_kg / (counted * math.sin(math.radians(angle_deg)))


def unequal_legs(load_kg: float, near_mm: float, far_mm: float, rise_mm: float) -> Legs:
    """Tension in two legs whose feet are unequally far from under the hook.

    Formula: V_near = W·D2/(D1 + D2), T = V/sin b, b = atan(rise/D)
    Args:
        load_kg [kg]: the load; 0..20000
        near_mm [mm]: level distance hook to the nearer foot; 1..10000
        far_mm [mm]: level distance hook to the other foot; 1..10000
        rise_mm [mm]: hook above the feet; 1..10000
    Returns: Legs
    Picture: sling
    Source: balance of forces; the flattest leg does not carry the most, though a common trade page says so
    Example:
        >>> round(unequal_legs(150, 500, 1000, 1000).near_kg, 2)
        111.8
    """
    check_range("load_kg", load_kg, 0, 20000)
    check_range("near_mm", near_mm, 1, 10000)
    check_range("far_mm", far_mm, near_mm, 10000)
    check_range("rise_mm", rise_mm, 1, 10000)
    near, far = math.atan2(rise_mm, near_mm), math.atan2(rise_mm, far_mm)
    if math.degrees(far) < 30:
        raise CalcError("rise_mm", "a leg is flatter than 30° to the horizontal.", "Use longer legs.")
    span = near_mm + far_mm
    return Legs(
        load_kg * far_mm / span / math.sin(near),
        load_kg * near_mm / span / math.sin(far),
        math.degrees(near),
        math.degrees(far),
    )


def sling_factor(along_leg_mm: float, rise_mm: float) -> float:
    """The factor on a leg's load, measured with a rule: length along the leg over its rise.

    Formula: length/rise = 1/sin b; more than 2 (30°) is refused
    Args:
        along_leg_mm [mm]: along the leg; 1..10000
        rise_mm [mm]: rise over that length; 1..10000
    Returns:
        factor [-]: multiply the straight share by it
    Picture: sling
    Source: ten-inch rule of a crane training body
    Example:
        >>> sling_factor(162.5, 100)
        1.625
    """
    check_range("along_leg_mm", along_leg_mm, 1, 10000)
    check_range("rise_mm", rise_mm, 1, 10000)
    factor = along_leg_mm / rise_mm
    if factor < 1:
        raise CalcError("along_leg_mm", "is less than the rise.", "Measure again.")
    if factor > 2:
        raise CalcError(
            "along_leg_mm", "the leg is flatter than 30° to the horizontal.", "Rig it anew, longer."
        )
    return factor


def choker_factor(bend_deg: float) -> float:
    """What is left of a choker's own rating, by the angle at the choke.

    Formula: over 120° 1.00, 90 to 120 0.87, 60 to 89 0.74, 30 to 59 0.62, below 0.49
    Args:
        bend_deg [deg]: angle of the body at the choke; 0..180
    Returns:
        factor [-]: of the choker rating
    Source: web sling maker's sheet
    Example:
        >>> choker_factor(100)
        0.87
    """
    check_range("bend_deg", bend_deg, 0, 180)
    for least, factor in ((120.0001, 1.0), (90, 0.87), (60, 0.74), (30, 0.62)):
        if bend_deg >= least:
            return factor
    return 0.49


def shackle_factor(side_deg: float) -> float:
    """What is left of a shackle's rating when it is pulled sideways; screw-pin or bolt type only.

    Formula: in line (to 5°) 100 %, to 45° 70 %, to 90° 50 %; between marks the lower
    Args:
        side_deg [deg]: pull off the line of the shackle; 0..90
    Returns:
        factor [-]: of the rating
    Source: rigging maker's side load table; bands 0-5, 6-45, 46-90 in WAC 296-155-33905
    Example:
        >>> shackle_factor(45)
        0.7
    """
    check_range("side_deg", side_deg, 0, 90)
    return 1.0 if side_deg <= 5 else 0.7 if side_deg <= 45 else 0.5


def eye_bolt_factor(kind: Literal["shoulder", "plain", "swivel"], angle_deg: float) -> float:
    """What is left of an eye bolt's rating by the pull off its axis; the part's own chart rules.

    Formula: shoulder: to 5° 100 %, 15° 80, 30° 65, 45° 30, 90° 25, between marks the lower; plain: straight
        only
    Args:
        kind [-]: shoulder eye bolt, plain eye bolt, or swivel hoist ring
        angle_deg [deg]: pull off the axis of the bolt; 0..90
    Returns:
        factor [-]: of the rating
    Source: an eye bolt maker's chart (other makers print lower at 15 to 30°); plain: straight pull only
    Example:
        >>> eye_bolt_factor("shoulder", 40)
        0.3
    """
    check_choice("kind", kind, ("shoulder", "plain", "swivel"))
    check_range("angle_deg", angle_deg, 0, 90)
    if kind == "swivel":
        return 1.0
    if kind == "plain":
        if angle_deg > 5:
            raise CalcError(
                "angle_deg", "a plain eye bolt takes a straight pull only.", "Use a shoulder or swivel eye."
            )
        return 1.0
    for most, factor in ((5, 1.0), (15, 0.8), (30, 0.65), (45, 0.3)):
        if angle_deg <= most:
            return factor
    return 0.25


def crane_hole(load_kg: float, ratings_kg: Sequence[float]) -> int:
    """The outermost marked hole of an engine crane's boom that is rated for the load.

    Formula: last hole with rating at least the load; never between marks, never from moments
    Args:
        load_kg [kg]: engine, gearbox, chain, leveller and all; 0..5000
        ratings_kg [kg]: as marked, innermost first; 50..5000
    Returns:
        hole [-]: 1 is the innermost
    Source: folding engine crane manual (2 / 1.5 / 1 / 0.5 ton); 0.5 US ton is 453.59 kg
    Example:
        >>> crane_hole(460, [1814, 1361, 907, 453])
        3
    """
    check_range("load_kg", load_kg, 0, 5000)
    if not ratings_kg or any(b > a for a, b in itertools.pairwise(ratings_kg)):
        raise CalcError(
            "ratings_kg", "ratings fall from the innermost hole outward.", "Read the marks again."
        )
    for rating in ratings_kg:
        check_range("ratings_kg", rating, 50, 5000)
    fit = [i for i, rating in enumerate(ratings_kg, 1) if rating >= load_kg]
    if not fit:
        raise CalcError("load_kg", "is over every rating marked.", "Use a larger crane.")
    return fit[-1]


def crane_tip(crane_kg: float, crane_mm: float, front_mm: float, hook_mm: float, load_kg: float) -> CraneTip:
    """Whether an engine crane stays on its feet, measured from the rear casters.

    Formula: stabilising = Wc·(xf - xc), overturning = W·(xh - xf); ratio at least 1.5
    Args:
        crane_kg [kg]: the crane's own mass; 10..1000
        crane_mm [mm]: its centre of gravity from the rear casters, behind the front ones; 0..5000
        front_mm [mm]: front casters from the rear ones; 100..5000
        hook_mm [mm]: hook from the rear casters; 0..6000
        load_kg [kg]: the load; 0..5000
    Returns: CraneTip
    Source: balance of moments; the threshold 1.5 is this project's
    Example:
        >>> round(crane_tip(75, 550, 1500, 1750, 250).ratio, 2)
        1.14
    """
    check_range("crane_kg", crane_kg, 10, 1000)
    check_range("crane_mm", crane_mm, 0, 5000)
    check_range("front_mm", front_mm, 100, 5000)
    check_range("hook_mm", hook_mm, 0, 6000)
    check_range("load_kg", load_kg, 0, 5000)
    if crane_mm >= front_mm:
        raise CalcError(
            "crane_mm",
            "an empty crane would tip over its front casters.",
            "Measure both from the rear casters again.",
        )
    whole = crane_kg + load_kg
    front = (crane_kg * crane_mm + load_kg * hook_mm) / front_mm
    overturning = load_kg * (hook_mm - front_mm)
    ratio = crane_kg * (front_mm - crane_mm) / overturning if overturning > 0 else None
    return CraneTip(ratio, ratio is None or ratio >= 1.5, min(front, whole), max(whole - front, 0.0))


def stand_rating(marked_kg: float, marked_for: Literal["pair", "each", "unknown"]) -> float:
    """What one stand of a pair is good for.

    Formula: per pair or unknown: half of what is marked; each: as marked
    Args:
        marked_kg [kg]: as marked; 100..20000
        marked_for [-]: what the marking says it is for
    Returns:
        each_kg [kg]: for one stand
    Source: common practice (ratings are usually per pair; unknown counts as per pair)
    Example:
        >>> stand_rating(3000, "unknown")
        1500.0
    """
    check_range("marked_kg", marked_kg, 100, 20000)
    check_choice("marked_for", marked_for, ("pair", "each", "unknown"))
    return float(marked_kg) if marked_for == "each" else marked_kg / 2
