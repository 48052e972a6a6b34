"""Shares on a slope or on stairs, and finding a centre of gravity with two scales."""

import math
from dataclasses import dataclass

from yokemate.calc.errors import CalcError, check_range


@dataclass(frozen=True)
class SlopeShares:
    """What the hands at both ends bear, if they only push straight up: say "at least" to the lower one.

    Fields:
        lower_percent [percent]: of the load, lower hands
        upper_percent [percent]: of the load, upper hands
        tips_at_deg [deg]: tilt at which the upper hands bear nothing; none when they never do
    """

    lower_percent: float
    upper_percent: float
    tips_at_deg: float | None


@dataclass(frozen=True)
class Weighed:
    """A centre of gravity found by weighing.

    Fields:
        mass_kg [kg]: the whole load
        from_front_mm [mm]: centre of gravity behind the front support
        plus_minus_mm [mm]: how far off that may be by the error of the scales
    """

    mass_kg: float
    from_front_mm: float
    plus_minus_mm: float


@dataclass(frozen=True)
class WeighedHeight:
    """A height found by weighing tilted.

    Fields:
        above_supports_mm [mm]: centre of gravity above the line of the supports
        plus_minus_mm [mm]: how far off that may be by the error of the front scale, read twice
        tilt_deg [deg]: the tilt
    """

    above_supports_mm: float
    plus_minus_mm: float
    tilt_deg: float


def slope_shares(
    cog_from_lower_mm: float, length_mm: float, cog_above_hands_mm: float, tilt_deg: float
) -> SlopeShares:
    """What the lower and the upper hands bear on a slope or on stairs.

    Formula: upper = a/L - (h/L)·tan t; lower = rest (vertical hand forces)
    Args:
        cog_from_lower_mm [mm]: a, centre of gravity from the lower hands along the load; 0..10000
        length_mm [mm]: L, between the hands; 100..10000
        cog_above_hands_mm [mm]: h, above the line of the hands; below it is negative; -2000..2000
        tilt_deg [deg]: t; 0..60
    Returns: SlopeShares
    Source: balance of moments; HSE L23: on steps or slopes most weight may fall on the lower handlers
    Example:
        >>> round(slope_shares(1200, 2400, 300, 20).lower_percent, 2)
        54.55
    """
    check_range("length_mm", length_mm, 100, 10000)
    check_range("cog_from_lower_mm", cog_from_lower_mm, 0, length_mm)
    upper = (cog_from_lower_mm - shift_on_slope(cog_above_hands_mm, tilt_deg)) / length_mm
    if not 0 <= upper <= 1:
        raise CalcError("tilt_deg", "the load turns over at this tilt.", "Carry it lower or less steep.")
    tips = math.degrees(math.atan2(cog_from_lower_mm, cog_above_hands_mm)) if cog_above_hands_mm > 0 else None
    return SlopeShares((1 - upper) * 100, upper * 100, tips)


def shift_on_slope(cog_above_hands_mm: float, tilt_deg: float) -> float:
    """How far the centre of gravity of a tilted load moves towards its lower end, seen from above.

    With it moved that far along the load, what each support bears is worked out as if the load was level.

    Formula: s = h·tan t (vertical hand forces)
    Args:
        cog_above_hands_mm [mm]: h, above the plane of hands and other supports; below it is negative; -2000..2000
        tilt_deg [deg]: t; 0..60
    Returns:
        shift_mm [mm]: measured along the load; negative towards the upper end
    Source: balance of moments, as in slope_shares
    Example:
        >>> round(shift_on_slope(300, 20), 1)
        109.2
    """
    check_range("cog_above_hands_mm", cog_above_hands_mm, -2000, 2000)
    check_range("tilt_deg", tilt_deg, 0, 60)
    return cog_above_hands_mm * math.tan(math.radians(tilt_deg))


def weigh(front_kg: float, rear_kg: float, length_mm: float, scale_error_kg: float = 0.5) -> Weighed:
    """The centre of gravity along the load, from a scale under each end, level.

    Formula: a = L·R_rear/W; ± from each scale's error
    Args:
        front_kg [kg]: front scale; 0..5000
        rear_kg [kg]: rear scale; 0..5000
        length_mm [mm]: between the supports; 100..10000
        scale_error_kg [kg]: each scale may be this far off; 0..50
    Returns: Weighed
    Source: balance of moments; the family of ISO 10392
    Example:
        >>> round(weigh(52, 43, 2400).from_front_mm, 1)
        1086.3
    """
    check_range("front_kg", front_kg, 0, 5000)
    check_range("rear_kg", rear_kg, 0, 5000)
    check_range("length_mm", length_mm, 100, 10000)
    check_range("scale_error_kg", scale_error_kg, 0, 50)
    mass = front_kg + rear_kg
    if mass <= 2 * scale_error_kg:
        raise CalcError("rear_kg", "the load is no heavier than the scales' error.", "Use finer scales.")
    return Weighed(mass, length_mm * rear_kg / mass, length_mm * scale_error_kg / mass)


def weigh_tilted(
    mass_kg: float,
    length_mm: float,
    front_level_kg: float,
    front_tilted_kg: float,
    raised_mm: float,
    scale_error_kg: float = 0.5,
) -> WeighedHeight:
    """The height of the centre of gravity, from the front scale level and with the rear raised.

    Springs and tyres are blocked first, fluids full or empty. Raise high: the scale's error rules the result.

    Formula: tan t = H/√(L² - H²); h = L·ΔF/(W·tan t)
    Args:
        mass_kg [kg]: the whole load; 1..5000
        length_mm [mm]: between the supports; 100..10000
        front_level_kg [kg]: front scale, level; no more than the mass; 0..5000
        front_tilted_kg [kg]: front scale, rear raised; no more than the mass; 0..5000
        raised_mm [mm]: rear support raised by; 10..5000
        scale_error_kg [kg]: each reading may be this far off, so that their difference may be twice that; 0..50
    Returns: WeighedHeight
    Source: race-car scale makers' method and a physics derivation, both with √(L² - H²); one with H/L is 3 to
        5 % off
    Example:
        >>> round(weigh_tilted(960, 2265, 499, 532.1, 700).above_supports_mm)
        240
    """
    check_range("mass_kg", mass_kg, 1, 5000)
    check_range("length_mm", length_mm, 100, 10000)
    check_range("front_level_kg", front_level_kg, 0, 5000)
    check_range("front_tilted_kg", front_tilted_kg, 0, 5000)
    check_range("raised_mm", raised_mm, 10, 5000)
    check_range("scale_error_kg", scale_error_kg, 0, 50)
    if raised_mm > 0.8 * length_mm:
        raise CalcError("raised_mm", "is too high for this length.", "Raise it less.")
    for field, reading in (("front_level_kg", front_level_kg), ("front_tilted_kg", front_tilted_kg)):
        if reading > mass_kg:
            raise CalcError(
                field,
                "the front scale shows more than the whole load.",
                "Read the scale again, or weigh the whole load.",
            )
    slope = raised_mm / math.sqrt(length_mm**2 - raised_mm**2)
    per_kg = length_mm / (mass_kg * slope)
    rise = front_tilted_kg - front_level_kg
    return WeighedHeight(per_kg * rise, per_kg * 2 * scale_error_kg, math.degrees(math.atan(slope)))
