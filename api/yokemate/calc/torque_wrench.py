"""The torque wrench: what it can be set to, what its scale makes of a target, when its word no longer counts.

Figures that decide about a reading are exact fractions here (a reading is compared in the unit it was typed
in).
"""

import math
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range
from yokemate.units import UNITS, convert_exact, format_decimal, round_inward

TorqueUnit = Literal["n_m", "lbf_ft", "lbf_in", "ozf_in", "kgf_m", "kgf_cm"]
RangeRule = Literal["2003", "2017"]

# A reading is typed with at most this many decimals, so a window rounded inward to as many decides as the
# exact one.
WINDOW_PLACES = 6
CYCLES_LIMIT = 5000  # uses between checks, ISO 6789:2003 as reported by a maker


@dataclass(frozen=True)
class UsableRange:
    """What a torque wrench may be used for.

    Fields:
        low [-]: the least setting, in the scale's unit
        high [-]: the greatest, in the scale's unit
        rule [-]: the edition that says so
    """

    low: Fraction
    high: Fraction
    rule: str


@dataclass(frozen=True)
class NearestMark:
    """What a scale makes of a target.

    Fields:
        mark [-]: the nearest mark (the lower of two equally near)
        error [-]: mark minus target, same unit
        error_percent [percent]: that, as part of the target
        below [-]: the mark at or below the target
        above [-]: the mark at or above the target
    """

    mark: Fraction
    error: Fraction
    error_percent: float
    below: Fraction
    above: Fraction


@dataclass(frozen=True)
class AcceptedWindow:
    """Readings that are accepted, as decimals in the torque wrench's unit, never wider than the exact window.

    Fields:
        target [-]: the target, rounded to the places asked for
        low [-]: the least reading accepted
        high [-]: the greatest reading accepted
        unit [-]: unit id of all three
    """

    target: str
    low: str
    high: str
    unit: str


@dataclass(frozen=True)
class CheckDue:
    """Whether a torque wrench still counts.

    Fields:
        fit [-]: whether its readings count on the day
        due_on [-]: the day its check runs out, as YYYY-MM-DD
        days_left [-]: days until then (negative when past)
        reason [-]: why it is unfit, or empty
    """

    fit: bool
    due_on: str
    days_left: int
    reason: str


@dataclass(frozen=True)
class HouseCheck:
    """A torque wrench held against a known weight on a known arm.

    Fields:
        applied_n_m [n_m]: the torque that mass and own weight make
        deviation_percent [percent]: reading against it
        permitted_percent [percent]: what the standard lets a tool of this maximum deviate
        within [-]: whether it deviates no more than that
    """

    applied_n_m: float
    deviation_percent: float
    permitted_percent: float
    within: bool


def usable_range(maximum: Fraction, lowest_mark: Fraction, edition: RangeRule = "2003") -> UsableRange:
    """The settings at which a torque wrench's word counts.

    Formula: 2003 edition: 20 % of the maximum (or the lowest mark if that is higher) to the maximum;
        2017 edition: the lowest mark to the maximum
    Args:
        maximum [-]: greatest mark of the scale; 0.01..10000
        lowest_mark [-]: least mark of the scale, same unit; 0..10000
        edition [-]: of ISO 6789: 2003 or 2017 (ISO 6789-1)
    Returns: UsableRange
    Source: ISO 6789:2003 (checked at 20, 60, 100 %) and ISO 6789-1:2017, both as reported by makers
    Example:
        >>> usable_range(Fraction(100), Fraction(10)).low
        Fraction(20, 1)
    """
    check_range("maximum", maximum, Fraction(1, 100), 10000)
    check_range("lowest_mark", lowest_mark, 0, 10000)
    check_choice("edition", edition, ("2003", "2017"))
    if lowest_mark >= maximum:
        raise CalcError("lowest_mark", "the lowest mark is not below the greatest.", "Read the scale again.")
    if edition == "2017":
        if lowest_mark == 0:
            raise CalcError(
                "lowest_mark", "the 2017 edition starts at the lowest mark.", "Give the lowest mark above 0."
            )
        return UsableRange(lowest_mark, maximum, "ISO 6789-1:2017, lowest marked value to maximum")
    return UsableRange(max(maximum / 5, lowest_mark), maximum, "ISO 6789:2003, 20 to 100 % of maximum")


def nearest_mark(target: Fraction, step: Fraction, lowest_mark: Fraction, maximum: Fraction) -> NearestMark:
    """The nearest mark on a scale, and the error it makes.

    Formula: mark = lowest + round((target - lowest)/step)·step
    Args:
        target [-]: wanted setting in the scale's unit; 0.001..100000
        step [-]: from one mark to the next; 0.001..1000
        lowest_mark [-]: least mark; 0..100000
        maximum [-]: greatest mark; 0.01..100000
    Returns: NearestMark
    Source: arithmetic; of two equally near marks the lower is taken (common practice)
    Example:
        >>> nearest_mark(Fraction(92), Fraction(5), Fraction(20), Fraction(200)).mark
        Fraction(90, 1)
    """
    check_range("target", target, Fraction(1, 1000), 100000)
    check_range("step", step, Fraction(1, 1000), 1000)
    check_range("lowest_mark", lowest_mark, 0, 100000)
    check_range("maximum", maximum, Fraction(1, 100), 100000)
    if not lowest_mark <= target <= maximum:
        raise CalcError("target", "is outside the scale.", "Take a torque wrench whose scale holds it.")
    steps = (target - lowest_mark) / step
    below = lowest_mark + steps.__floor__() * step
    above = below if below == target else below + step
    if above > maximum:
        above = below
    mark = above if above - target < target - below else below
    return NearestMark(mark, mark - target, float((mark - target) / target * 100), below, above)


def accepted_window(
    target: Fraction,
    minus: Fraction,
    plus: Fraction,
    from_unit: TorqueUnit,
    wrench_unit: TorqueUnit,
    drag: Fraction = Fraction(0),
    arm_ratio: Fraction = Fraction(1),
    places: int = WINDOW_PLACES,
) -> AcceptedWindow:
    """The readings accepted for a target and its tolerance, in the torque wrench's own unit.

    Formula: ((target ± tolerance) + drag) · L/(L + E cos a), converted exactly, both ends rounded inward
    Args:
        target [-]: torque at the fastener, in from_unit; 0.001..100000
        minus [-]: allowed below the target, in from_unit; 0..100000
        plus [-]: allowed above the target, in from_unit; 0..100000
        from_unit [-]: unit of the spec
        wrench_unit [-]: unit of the torque wrench
        drag [-]: prevailing torque measured and added, in from_unit; 0..10000
        arm_ratio [-]: setting over torque at the fastener, from an extension; 0.1..10
        places [-]: decimals; 0..9
    Returns: AcceptedWindow
    Source: exact definitions of the units; prevailing torque added: AC 43.13-1B par. 7-40
    Example:
        >>> accepted_window(Fraction(100), Fraction(5), Fraction(5), "n_m", "lbf_ft", places=2)
        AcceptedWindow(target='73.76', low='70.07', high='77.44', unit='lbf_ft')
    """
    check_range("target", target, Fraction(1, 1000), 100000)
    check_range("minus", minus, 0, 100000)
    check_range("plus", plus, 0, 100000)
    check_range("drag", drag, 0, 10000)
    check_range("arm_ratio", arm_ratio, Fraction(1, 10), 10)
    check_range("places", places, 0, 9)
    _torque_unit("from_unit", from_unit)
    _torque_unit("wrench_unit", wrench_unit)
    if minus >= target:
        raise CalcError(
            "minus", "the tolerance reaches down to nothing.", "Check the tolerance and its unit."
        )

    def setting(at_fastener: Fraction) -> Fraction:
        return convert_exact((at_fastener + drag) * arm_ratio, from_unit, wrench_unit)

    low, high = round_inward(setting(target - minus), setting(target + plus), places)
    if Fraction(low) > Fraction(high):
        raise CalcError(
            "places",
            f"no reading with {places} decimals lies inside the window.",
            "Ask for more decimals, or look at the tolerance.",
        )
    return AcceptedWindow(format_decimal(setting(target), places), low, high, wrench_unit)


def extension_ratio(
    length_mm: Fraction, extension_mm: Fraction, angle_deg: Fraction = Fraction(0)
) -> Fraction:
    """Setting over torque at the fastener, for an adapter that moves the square drive off the fastener.

    Exact for 0, 90 and 180°; for other angles the cosine is taken to 15 digits.

    Formula: L/(L + E cos a)
    Args:
        length_mm [mm]: square drive to the middle of the grip; 20..3000
        extension_mm [mm]: square drive to the fastener; 0..1000
        angle_deg [deg]: adapter from the line of the torque wrench: 0 straight out, 180 back to the hand;
            0..180
    Returns:
        ratio [-]: multiply the wanted torque by it to get the setting
    Source: TM 9-254 (angle rule); R66 maintenance manual p. 20.4 (straight); 90° needs none: NAVEDTRA 14008
    Example:
        >>> extension_ratio(Fraction(400), Fraction(80))
        Fraction(5, 6)
    """
    check_range("length_mm", length_mm, 20, 3000)
    check_range("extension_mm", extension_mm, 0, 1000)
    check_range("angle_deg", angle_deg, 0, 180)
    arm = length_mm + extension_mm * _cosine(angle_deg)
    if arm < length_mm / 4:
        raise CalcError(
            "extension_mm", "the adapter reaches back too far along the handle.", "Turn or shorten it."
        )
    return length_mm / arm


def extension_setting(
    torque: Fraction, length_mm: Fraction, extension_mm: Fraction, angle_deg: Fraction = Fraction(0)
) -> Fraction:
    """What to set, with an adapter, for a torque at the fastener.

    Formula: T_set = T·L/(L + E cos a)
    Args:
        torque [-]: wanted at the fastener, any unit; 0..100000
        length_mm [mm]: square drive to the middle of the grip; 20..3000
        extension_mm [mm]: square drive to the fastener; 0..1000
        angle_deg [deg]: adapter from the line of the torque wrench; 0..180
    Returns:
        setting [-]: same unit as the torque
    Source: as extension_ratio
    Example:
        >>> extension_setting(Fraction(135), Fraction(250), Fraction(40))
        Fraction(3375, 29)
    """
    check_range("torque", torque, 0, 100000)
    return torque * extension_ratio(length_mm, extension_mm, angle_deg)


def extension_applied(
    setting: Fraction, length_mm: Fraction, extension_mm: Fraction, angle_deg: Fraction = Fraction(0)
) -> Fraction:
    """What reaches the fastener, with an adapter, at a setting.

    Formula: T = T_set·(L + E cos a)/L
    Args:
        setting [-]: on the torque wrench, any unit; 0..100000
        length_mm [mm]: square drive to the middle of the grip; 20..3000
        extension_mm [mm]: square drive to the fastener; 0..1000
        angle_deg [deg]: adapter from the line of the torque wrench; 0..180
    Returns:
        torque [-]: at the fastener, same unit as the setting
    Source: as extension_ratio; example: TM 9-254 pp. 91-92
    Example:
        >>> extension_applied(Fraction(100), Fraction(500), Fraction(150))
        Fraction(130, 1)
    """
    check_range("setting", setting, 0, 100000)
    return setting / extension_ratio(length_mm, extension_mm, angle_deg)


def permitted_deviation(maximum_n_m: float) -> float:
    """How far a click wrench may deviate, by the tool's maximum (not by the set value).

    Formula: 4 % when the maximum is above 10 N·m, else 6 %
    Args:
        maximum_n_m [n_m]: greatest mark of the scale; 0.1..10000
    Returns:
        deviation_percent [percent]: permitted either way
    Source: ISO 6789:2003 type II class A, as given in a maker's manual (Facom S.325DA)
    Example:
        >>> permitted_deviation(100)
        4.0
    """
    check_range("maximum_n_m", maximum_n_m, 0.1, 10000)
    return 4.0 if maximum_n_m > 10 else 6.0


def check_due(
    last_check: date,
    on: date,
    months: int = 12,
    cycles: int = 0,
    cycles_limit: int = CYCLES_LIMIT,
    dropped_on: date | None = None,
) -> CheckDue:
    """Whether a torque wrench still counts on a day.

    Formula: last check + months, or the cycle limit, or a drop on or after the day of the check: whichever is
        first
    Args:
        last_check [-]: day of the last good check
        on [-]: the day asked about
        months [-]: interval; 1..60
        cycles [-]: uses since the check; 0..1000000
        cycles_limit [-]: uses allowed; 100..1000000
        dropped_on [-]: day it was last dropped or abused, if ever
    Returns: CheckDue
    Source: 12 months or 5000 cycles, ISO 6789:2003 as reported by a maker; at once after a drop: AC 43.13-1B
    Example:
        >>> check_due(date(2026, 1, 31), date(2027, 2, 1)).reason
        'its check ran out on 2027-01-31'
    """
    check_range("months", months, 1, 60)
    check_range("cycles", cycles, 0, 1_000_000)
    check_range("cycles_limit", cycles_limit, 100, 1_000_000)
    if on < last_check:
        raise CalcError("on", "is before the last check.", "Check the dates.")
    due = _months_later(last_check, months)
    reason = ""
    if dropped_on is not None and last_check <= dropped_on <= on:
        reason = f"it was dropped on {dropped_on.isoformat()} and not checked since"
    elif on > due:
        reason = f"its check ran out on {due.isoformat()}"
    elif cycles >= cycles_limit:
        reason = f"it was used {cycles} times since its check"
    return CheckDue(not reason, due.isoformat(), (due - on).days, reason)


def house_check(
    mass_kg: float,
    arm_mm: float,
    reading_n_m: float,
    maximum_n_m: float,
    own_kg: float = 0,
    own_arm_mm: float = 0,
) -> HouseCheck:
    """A check at home: hang a weighed mass on the handle's arm, square drive held, handle level, and compare.

    The torque wrench's own weight pulls at its point of balance too: 1.3 kg that balance 180 mm out make 2.3 N·m, which
    beside a mass of 10 kg is as much as may deviate.

    Formula: T = (m·L + own m·own L)·g; deviation = (reading - T)/T
    Args:
        mass_kg [kg]: weighed mass; 0.1..200
        arm_mm [mm]: square drive to the hanging point, level; 50..3000
        reading_n_m [n_m]: set or shown when it clicks; 0.1..10000
        maximum_n_m [n_m]: greatest mark of the scale; 0.1..10000
        own_kg [kg]: the torque wrench itself; 0..30
        own_arm_mm [mm]: square drive to the point where it balances; 0..3000
    Returns: HouseCheck
    Source: statics, g = 9.80665 m/s2; permitted deviation ISO 6789:2003. A house check is no calibration and is named
        as such
    Example:
        >>> round(house_check(10, 500, 50, 100, 1.3, 180).applied_n_m, 2)
        51.33
    """
    check_range("mass_kg", mass_kg, 0.1, 200)
    check_range("arm_mm", arm_mm, 50, 3000)
    check_range("reading_n_m", reading_n_m, 0.1, 10000)
    check_range("own_kg", own_kg, 0, 30)
    check_range("own_arm_mm", own_arm_mm, 0, 3000)
    if (own_kg == 0) != (own_arm_mm == 0):
        raise CalcError(
            "own_arm_mm" if own_arm_mm == 0 else "own_kg",
            "is missing: its own weight and where it balances belong together.",
            "Weigh it, and lay it over an edge to find the point.",
        )
    permitted = permitted_deviation(maximum_n_m)
    applied = (mass_kg * arm_mm + own_kg * own_arm_mm) * 9.80665 / 1000
    deviation = (reading_n_m - applied) / applied * 100
    return HouseCheck(applied, deviation, permitted, abs(deviation) <= permitted)


def _cosine(angle_deg: Fraction) -> Fraction:
    # A float's cosine of 60, 90 or 120° is a sixteenth digit off; to fifteen it is the simple fraction itself.
    return Fraction(math.cos(math.radians(angle_deg))).limit_denominator(10**15)


def _torque_unit(field: str, unit: str) -> None:
    check_choice(field, unit, [u.id for u in UNITS.values() if u.dimension == "torque"])


def _months_later(day: date, months: int) -> date:
    year, month = divmod(day.month - 1 + months, 12)
    for last in (day.day, 30, 29, 28):
        try:
            return date(day.year + year, month + 1, min(day.day, last))
        except ValueError:
            continue
    raise AssertionError("every month has a 28th")
