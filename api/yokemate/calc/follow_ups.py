"""What comes due later: by distance, by heat cycles, by the calendar; and what must cure first."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import check_choice, check_range
from yokemate.units import convert_exact

# What: hours before it may be handled, hours to full cure, note.
_CURES: dict[str, tuple[float, float, str]] = {
    "thread_locker": (10 / 60, 24, "slower on stainless or in the cold"),
    "rtv_sealant": (0.5, 24, "thicker beads take longer"),
    "paint": (12, 12, "dry to handle; common practice"),
}


@dataclass(frozen=True)
class Lag:
    """Waiting that uses the calendar and nobody's hands.

    Fields:
        handle_h [h]: before it may be handled
        full_h [h]: before it bears its load
        note [-]: what makes it longer
    """

    handle_h: float
    full_h: float
    note: str


@dataclass(frozen=True)
class Due:
    """Whether a follow-up is due.

    Fields:
        due [-]: now or past
        left_km [km]: until it is due, negative when past
    """

    due: bool
    left_km: Fraction


def cure_lag(what: Literal["thread_locker", "rtv_sealant", "paint"]) -> Lag:
    """How long something must cure; the maker's own figure always wins.

    Formula: table
    Args:
        what [-]: what was put on
    Returns: Lag
    Source: thread locker: a maker's questions page (10 min handling, 24 h full); RTV: a laboratory's note;
        paint: common practice
    Example:
        >>> cure_lag("thread_locker").full_h
        24
    """
    check_choice("what", what, tuple(_CURES))
    return Lag(*_CURES[what])


def distance_due(
    done_at_km: Fraction, now_km: Fraction, interval: Fraction, unit: Literal["km", "mile"]
) -> Due:
    """Whether a check by distance is due: wheel nuts again after 50 of whatever the source says.

    Sources print the same digits in miles and in kilometres; the unit is kept, and the shorter is the one to
    choose.

    Formula: done + interval, converted exactly
    Args:
        done_at_km [km]: distance run when it was done; 0..2000000
        now_km [km]: distance run now; 0..2000000
        interval [-]: as printed, in its own unit; 1..100000
        unit [-]: of the interval
    Returns: Due
    Source: wheel nuts 50 to 100 miles (a tyre dealer), the same digits in kilometres (another)
    Example:
        >>> distance_due(Fraction(100), Fraction(150), Fraction(50), "mile").due
        False
    """
    check_range("done_at_km", done_at_km, 0, 2_000_000)
    check_range("now_km", now_km, done_at_km, 2_000_000)
    check_range("interval", interval, 1, 100_000)
    check_choice("unit", unit, ("km", "mile"))
    left = done_at_km + convert_exact(interval, unit, "km") - now_km
    return Due(left <= 0, left)


def heat_cycles_left(cycles_done: int, cycles_wanted: int = 2) -> int:
    """How many full warm-ups and cool-downs are left before a follow-up (exhaust after two, clamps after
    heat).

    Formula: wanted - done, not below 0
    Args:
        cycles_done [-]: since the work; 0..1000
        cycles_wanted [-]: before the follow-up; 1..100
    Returns:
        cycles_left [-]: 0 is due now
    Source: common practice
    Example:
        >>> heat_cycles_left(1)
        1
    """
    check_range("cycles_done", cycles_done, 0, 1000)
    check_range("cycles_wanted", cycles_wanted, 1, 100)
    return max(cycles_wanted - cycles_done, 0)
