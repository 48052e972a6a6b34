"""Ribbed belts: what their marking says, and how long a belt a set of pulleys needs."""

import cmath
import itertools
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import CalcError, check_range

_MARK = re.compile(r"([3-9]|1[0-2])PK([0-9]{3,4})")
RIB_PITCH_MM = 3.56
_TOUCH_MM = 1e-6  # nearer than that is touching

_Span = tuple[complex, complex]  # a straight's two ends, x + y·i in mm


@dataclass(frozen=True)
class BeltMark:
    """What nPKlllll says.

    Fields:
        ribs [-]: how many
        effective_mm [mm]: length near the cord line, not outside
        width_mm [mm]: ribs times 3.56
        outside_mm [mm]: about, 14 mm more than effective
    """

    ribs: int
    effective_mm: float
    width_mm: float
    outside_mm: float


@dataclass(frozen=True)
class Pulley:
    """One pulley, in the order the belt meets them, counter-clockwise.

    Fields:
        name [-]: what it drives
        x_mm [mm]: seen from the front; -5000..5000
        y_mm [mm]: up; -5000..5000
        radius_mm [mm]: effective; for a back idler its roller plus the belt's thickness; 3..500
        back [-]: true for a smooth idler on the belt's back, outside the loop
        driven [-]: false for an idler, whose wrap may be small
    """

    name: str
    x_mm: float
    y_mm: float
    radius_mm: float
    back: bool = False
    driven: bool = True


@dataclass(frozen=True)
class PulleyWrap:
    """How far the belt goes round one pulley, and the straight after it.

    Fields:
        name [-]: the pulley
        wrap_deg [deg]: angle of contact
        straight_mm [mm]: free length to the next pulley
        warning [-]: when a driven pulley has less than 90°, or empty
    """

    name: str
    wrap_deg: float
    straight_mm: float
    warning: str


@dataclass(frozen=True)
class BeltPath:
    """The whole loop.

    Fields:
        length_mm [mm]: at the radii given
        wraps [-]: one per pulley
    """

    length_mm: float
    wraps: tuple[PulleyWrap, ...]


def belt_mark(mark: str) -> BeltMark:
    """What the marking of a ribbed belt says.

    Formula: n ribs, PK profile, effective length in mm; width = 3.56·n
    Args:
        mark [-]: like 6PK1200
    Returns: BeltMark
    Source: two belt dealers' guides; ISO 9981 is the standard
    Example:
        >>> belt_mark("6PK1200").outside_mm
        1214.0
    """
    match = _MARK.fullmatch(mark.strip().upper())
    if match is None:
        raise CalcError("mark", f"'{mark}' is not a marking of this kind.", "Write it like 6PK1200.")
    ribs, length = int(match.group(1)), int(match.group(2))
    return BeltMark(ribs, float(length), ribs * RIB_PITCH_MM, length + 14.0)


def belt_from_inches(ribs: int, tenths_in: Fraction) -> str:
    """The metric marking of a belt coded in tenths of an inch.

    Formula: round(tenths·2.54)
    Args:
        ribs [-]: how many; 3..12
        tenths_in [-]: effective length in tenths of an inch, as coded: 345, or 472.4 for 47.24 in; 100..1500
    Returns:
        mark [-]: like 5PK876
    Source: dealers' inch codes, exact inch
    Example:
        >>> belt_from_inches(5, Fraction(345))
        '5PK876'
    """
    check_range("ribs", ribs, 3, 12)
    check_range("tenths_in", tenths_in, 100, 1500)
    return f"{ribs}PK{(tenths_in * Fraction('2.54') + Fraction(1, 2)).__floor__()}"


def belt_path(pulleys: Sequence[Pulley]) -> BeltPath:
    """How long a belt goes round a set of pulleys, back-side idlers too.

    Formula: straight = √(C² - (s1·r1 - s2·r2)²), s = +1 inside the loop, -1 at the belt's back; arcs from the
        tangents; signed wraps add to 360°, no straight crosses another or a pulley
    Args:
        pulleys [-]: 2 to 12, counter-clockwise in the order the belt meets them
    Returns: BeltPath
    Picture: belt
    Source: geometry of tangents; two pulleys agree with L = 2R(π - a + tan a) + 2r(a - tan a)
    Example:
        >>> round(belt_path([Pulley("crank", 0, 0, 21), Pulley("fan", 30, 0, 6)]).length_mm, 3)
        152.492
    """
    if not 2 <= len(pulleys) <= 12:
        raise CalcError("pulleys", f"{len(pulleys)} pulleys given.", "Give 2 to 12.")
    for i, p in enumerate(pulleys):
        check_range(f"pulleys[{i}].x_mm", p.x_mm, -5000, 5000)
        check_range(f"pulleys[{i}].y_mm", p.y_mm, -5000, 5000)
        check_range(f"pulleys[{i}].radius_mm", p.radius_mm, 3, 500)
    for a, b in itertools.combinations(pulleys, 2):
        if abs(_centre(b) - _centre(a)) < a.radius_mm + b.radius_mm:
            raise CalcError("pulleys", f"{a.name} and {b.name} overlap.", "Measure their places again.")
    straights, directions = [], []
    for a, b in zip(pulleys, [*pulleys[1:], pulleys[0]], strict=True):
        apart = _centre(b) - _centre(a)
        across = _signed(a) - _signed(b)
        straights.append(math.sqrt(abs(apart) ** 2 - across**2))
        # Going counter-clockwise the belt leaves a pulley on its right-hand side of travel.
        directions.append(cmath.phase(apart) + math.asin(across / abs(apart)))
    length, turned, wraps = sum(straights), 0.0, []
    for i, p in enumerate(pulleys):
        turn = (directions[i] - directions[i - 1]) % (2 * math.pi)
        if p.back:
            turn = -((-turn) % (2 * math.pi))
        turned += turn
        length += abs(turn) * p.radius_mm
        wrap = abs(math.degrees(turn))
        few = p.driven and not p.back and wrap < 90
        wraps.append(
            PulleyWrap(p.name, wrap, straights[i], "less than 90° on a driven pulley" if few else "")
        )
    if abs(turned - 2 * math.pi) > 1e-6:
        raise CalcError(
            "pulleys", "the belt would cross itself.", "Give them counter-clockwise, in the belt's order."
        )
    _look_for_crossings(pulleys, directions)
    return BeltPath(length, tuple(wraps))


def belt_deflection(centres_mm: float, large_mm: float, small_mm: float) -> float:
    """How far a V-belt gives at the middle of its span under the maker's force.

    Formula: span = √(C² - ((D - d)/2)²); 1/64 of it
    Args:
        centres_mm [mm]: between pulley centres; 20..5000
        large_mm [mm]: larger diameter; 6..1000
        small_mm [mm]: smaller diameter; 6..1000
    Returns:
        deflection_mm [mm]: at mid-span
    Source: a belt maker's guide and a training text: 1/64 in per inch of span (V-belts; ribbed belts go by
        the pointer)
    Example:
        >>> round(belt_deflection(609.6, 304.8, 101.6) / 25.4, 3)
        0.37
    """
    check_range("centres_mm", centres_mm, 20, 5000)
    check_range("large_mm", large_mm, 6, 1000)
    check_range("small_mm", small_mm, 6, large_mm)
    if centres_mm < (large_mm + small_mm) / 2:
        raise CalcError("centres_mm", "the pulleys overlap.", "Measure again.")
    return math.sqrt(centres_mm**2 - ((large_mm - small_mm) / 2) ** 2) / 64


def _look_for_crossings(pulleys: Sequence[Pulley], directions: Sequence[float]) -> None:
    """Wraps that add to one turn are not enough: a pulley gone nearly all the way round makes up for one gone the other
    way. Pulleys do not overlap here, so arcs can only meet a straight, and that passes through the pulley then.
    """
    ends = list(zip(pulleys, [*pulleys[1:], pulleys[0]], strict=True))
    spans = [(_tangent(a, way), _tangent(b, way)) for (a, b), way in zip(ends, directions, strict=True)]
    for (a, b), span in zip(ends, spans, strict=True):
        for other in pulleys:
            if other not in (a, b) and _cuts(span, other):
                raise CalcError(
                    "pulleys",
                    f"the straight from {a.name} to {b.name} passes through {other.name}.",
                    "Measure their places again, and say which are at the belt's back.",
                )
    for (one, span), (two, later) in itertools.combinations(zip(ends, spans, strict=True), 2):
        if _cross(span, later):
            raise CalcError(
                "pulleys",
                f"the belt would cross itself: {one[0].name} to {one[1].name} and {two[0].name} to {two[1].name}.",
                "Give them counter-clockwise, in the belt's order, and say which are at the belt's back.",
            )


def _centre(pulley: Pulley) -> complex:
    return complex(pulley.x_mm, pulley.y_mm)


def _tangent(pulley: Pulley, direction: float) -> complex:
    """Where a straight of this direction touches: on the pulley's right-hand side of travel, at the back on its left."""
    return _centre(pulley) - 1j * cmath.rect(_signed(pulley), direction)


def _cuts(span: _Span, pulley: Pulley) -> bool:
    """Whether a straight goes through a pulley. Its ends lie on two others, which overlap no third: it does so on the way."""
    seen = _from(span, _centre(pulley))
    return 0 < seen.real < abs(span[1] - span[0]) and abs(seen.imag) < pulley.radius_mm - _TOUCH_MM


def _cross(one: _Span, two: _Span) -> bool:
    """Whether two straights cut through each other, each with its ends on either side of the other; touching is none."""
    return all(
        min(sides) < -_TOUCH_MM and max(sides) > _TOUCH_MM
        for sides in ([_from(one, end).imag for end in two], [_from(two, end).imag for end in one])
    )


def _from(span: _Span, point: complex) -> complex:
    """Where the point lies as seen along a straight: how far on from its start, and how far to its left."""
    return (point - span[0]) * cmath.rect(1, -cmath.phase(span[1] - span[0]))


def _signed(pulley: Pulley) -> float:
    return -pulley.radius_mm if pulley.back else pulley.radius_mm
