"""In which order the bolts of a group are tightened, and through which passes."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range

Shape = Literal["circle", "rectangle"]


@dataclass(frozen=True)
class BoltPlace:
    """Where one bolt is drawn: the middle of the group is 0, 0; y grows downward; 1 is half the longer side.

    Fields:
        number [-]: counted clockwise, 1 at the top; of a rectangle from its top left corner
        x [-]: to the right
        y [-]: down
        turn [-]: when it is tightened: 1 is first
    """

    number: int
    x: float
    y: float
    turn: int


@dataclass(frozen=True)
class TighteningPass:
    """One round over all bolts.

    Fields:
        number [-]: 1 is first
        percent [percent]: part of the final figure
        order [-]: bolt numbers in the order of this round
        circular [-]: true for the last round, bolt after bolt, until nothing moves
    """

    number: int
    percent: float
    order: tuple[int, ...]
    circular: bool


@dataclass(frozen=True)
class AngleRound:
    """One round over all bolts of a group that is tightened by torque, then by angle.

    Fields:
        number [-]: 1 is first
        torque [-]: the torque of the first round; none where the angle rules
        angle_deg [deg]: how far every bolt is turned on in this round; none in the first
        turned_deg [deg]: turned since the torque, with this round
        order [-]: bolt numbers in the order of this round
    """

    number: int
    torque: Fraction | None
    angle_deg: float | None
    turned_deg: float
    order: tuple[int, ...]


def tightening_order(count: int, shape: Shape = "circle", side_ratio: float = 1.0) -> tuple[int, ...]:
    """The order of tightening for bolts numbered clockwise round a circle or the edge of a rectangle.

    Formula: even: opposite pairs, each next pair furthest from those done (rectangle: from the middle
        outward); odd: always on by (n-1)/2
    Args:
        count [-]: bolts in the group; 1..64
        shape [-]: how they are laid out
        side_ratio [-]: rectangle only, width over height; 0.1..10
    Returns:
        order [-]: bolt numbers, first to last
    Picture: bolt_pattern of pattern_places
    Source: clock rule for 8 bolts (12, 6, 3, 9, 1:30, 7:30, then the last pair) and star for 5: gasket
        makers' fitting notes; other counts follow from the same rules (common practice)
    Example:
        >>> tightening_order(8)
        (1, 5, 3, 7, 2, 6, 4, 8)
    """
    check_range("count", count, 1, 64)
    check_choice("shape", shape, ("circle", "rectangle"))
    check_range("side_ratio", side_ratio, 0.1, 10)
    if count % 2:
        return tuple(i * ((count - 1) // 2) % count + 1 for i in range(count))
    order: list[int] = []
    for pair in _pair_order(count, shape, side_ratio):
        first, second = pair, pair + count // 2
        if order and count >= 6 and (first - order[-1]) % count in (1, count - 1):
            first, second = second, first  # never straight on to a neighbour
        order += [first, second]
    return tuple(bolt + 1 for bolt in order)


def _pair_order(count: int, shape: str, side_ratio: float) -> list[int]:
    half = count // 2
    if shape == "rectangle":
        places = _places(count, shape, side_ratio)
        return sorted(range(half), key=lambda i: (round(math.hypot(*places[i]), 9), i))
    left, done = list(range(1, half)), [0]
    while left:
        done.append(max(left, key=lambda i: min(min((i - d) % half, (d - i) % half) for d in done)))
        left.remove(done[-1])
    return done


def pattern_places(count: int, shape: Shape = "circle", side_ratio: float = 1.0) -> tuple[BoltPlace, ...]:
    """Where to draw each bolt, and when its turn comes.

    Formula: circle: angle 360·i/n from the top; rectangle: its corners, and as many between as keep the
        widest gap least; up to three bolts as on a circle, drawn out to its sides
    Args:
        count [-]: bolts in the group; 1..64
        shape [-]: how they are laid out
        side_ratio [-]: rectangle only, width over height; 0.1..10
    Returns: BoltPlace
    Picture: bolt_pattern
    Source: geometry
    Example:
        >>> [(p.number, p.turn) for p in pattern_places(4)]
        [(1, 1), (2, 3), (3, 2), (4, 4)]
    """
    order = tightening_order(count, shape, side_ratio)
    places = _places(count, shape, side_ratio)
    return tuple(BoltPlace(i + 1, x, y, order.index(i + 1) + 1) for i, (x, y) in enumerate(places))


def _places(count: int, shape: str, side_ratio: float) -> list[tuple[float, float]]:
    w, h = (1.0, 1 / side_ratio) if side_ratio >= 1 else (side_ratio, 1.0)
    if shape == "circle" or count < 4:
        if shape == "circle":
            w = h = 1.0
        angles = [2 * math.pi * i / count for i in range(count)]
        return [(w * math.sin(a), -h * math.cos(a)) for a in angles]
    corners = [(-w, -h), (w, -h), (w, h), (-w, h), (-w, -h)]
    between = _between(count - 4, 2 * w, 2 * h)
    return [
        (a[0] + (b[0] - a[0]) * i / (n + 1), a[1] + (b[1] - a[1]) * i / (n + 1))
        for (a, b), n in zip(itertools.pairwise(corners), between, strict=True)
        for i in range(n + 1)
    ]


def _between(left: int, width: float, height: float) -> list[int]:
    """How many bolts stand between the corners on top, right, bottom and left: each goes where the gap is widest, of
    equal ones to the longer side and then straight across, so that an even count lies opposite in pairs.
    """
    sides, found = (width, height, width, height), [0, 0, 0, 0]
    for _ in range(left):
        widest = max((0, 2, 1, 3), key=lambda s: (round(sides[s] / (found[s] + 1), 9), sides[s]))
        found[widest] += 1
    return found


def tightening_passes(
    count: int, percents: Sequence[float] = (30, 60, 100), shape: Shape = "circle", side_ratio: float = 1.0
) -> tuple[TighteningPass, ...]:
    """The rounds over a bolt group: in the crossing order at each level, then once round at the full figure.

    No bolt gets the next level before all have the last.

    Formula: levels 30 / 60 / 100 %, then a circular round at 100 %
    Args:
        count [-]: bolts in the group; 1..64
        percents [percent]: levels, rising, the last 100; 1..100
        shape [-]: how they are laid out
        side_ratio [-]: rectangle only, width over height; 0.1..10
    Returns: TighteningPass
    Picture: bolt_pattern of pattern_places
    Source: gasket makers' fitting notes (one maker says 25 / 50 / 100)
    Example:
        >>> [(p.percent, p.order) for p in tightening_passes(4)][-2:]
        [(100, (1, 3, 2, 4)), (100, (1, 2, 3, 4))]
    """
    order = tightening_order(count, shape, side_ratio)
    for percent in percents:
        check_range("percents", percent, 1, 100)
    if not percents or percents[-1] != 100 or any(b <= a for a, b in itertools.pairwise(percents)):
        raise CalcError("percents", "the levels do not rise to 100.", "Give them like 30, 60, 100.")
    rounds = [TighteningPass(i + 1, percent, order, circular=False) for i, percent in enumerate(percents)]
    if count > 2:
        rounds.append(TighteningPass(len(percents) + 1, 100, tuple(range(1, count + 1)), circular=True))
    return tuple(rounds)


def angle_rounds(
    count: int,
    torque: Fraction,
    angles_deg: Sequence[float],
    shape: Shape = "circle",
    side_ratio: float = 1.0,
) -> tuple[AngleRound, ...]:
    """The rounds of "27 N·m + 60° + 30°": every angle is a round of its own over all bolts, never one long turn.

    An angle gauge measures the turn. Bolts tightened to yield are replaced whenever they are removed.

    Formula: the torque over all bolts, then each angle over all bolts, in the crossing order
    Args:
        count [-]: bolts in the group; 1..64
        torque [-]: of the first round, in any unit; 0.001..100000
        angles_deg [deg]: as the manual adds them, up to six; 1..360
        shape [-]: how they are laid out
        side_ratio [-]: rectangle only, width over height; 0.1..10
    Returns: AngleRound
    Picture: bolt_pattern of pattern_places
    Source: a car maker's dealer note on torque-to-yield bolts (27 N·m + 60° + 30° is three rounds)
    Example:
        >>> [(r.torque, r.angle_deg, r.turned_deg) for r in angle_rounds(4, Fraction(27), [60, 30])]
        [(Fraction(27, 1), None, 0.0), (None, 60, 60.0), (None, 30, 90.0)]
    """
    order = tightening_order(count, shape, side_ratio)
    check_range("torque", torque, Fraction(1, 1000), 100000)
    if not 1 <= len(angles_deg) <= 6:
        raise CalcError("angles_deg", f"{len(angles_deg)} angles given.", "Give 1 to 6, like 60; 30.")
    for angle in angles_deg:
        check_range("angles_deg", angle, 1, 360)
    turned = itertools.accumulate(angles_deg, initial=0.0)
    return tuple(
        AngleRound(i + 1, torque if angle is None else None, angle, total, order)
        for i, (angle, total) in enumerate(zip((None, *angles_deg), turned, strict=True))
    )


def pass_target(target: Fraction, percent: Fraction) -> Fraction:
    """The figure for one pass, exactly.

    Formula: target · percent / 100
    Args:
        target [-]: the final figure in any unit; 0..100000
        percent [percent]: level of the pass; 1..100
    Returns:
        value [-]: the figure for this pass, same unit
    Source: arithmetic
    Example:
        >>> pass_target(Fraction("92"), Fraction(30))
        Fraction(138, 5)
    """
    check_range("target", target, 0, 100000)
    check_range("percent", percent, 1, 100)
    return target * percent / 100
