"""How a load rests on its supports: what each person, stand or hook bears.

Two supports and three not in one line share a load by balance alone. Four or more (or three in a line) do
not: there the estimate takes every support as equally springy and lets go of any that would have to pull, and
the envelope says how little and how much each could bear however stiff it is. All forces are vertical; a
share is given as a mass.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, product
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range

Point = tuple[float, float]
_TINY = 1e-9
BESIDE_MM = 50  # about half a grip or a saddle: what two hands or a stand even out
_SLACK = 1e-7  # how far rounding may push what lies on an edge beyond it


@dataclass(frozen=True)
class Support:
    """A place where the load is borne, seen from above.

    Fields:
        name [-]: what the place is called
        x_mm [mm]: along the load; -100000..100000
        y_mm [mm]: across the load; -100000..100000
        stiff [-]: true for a stand, a jack or a sling leg; false for a person
    """

    name: str
    x_mm: float
    y_mm: float = 0.0
    stiff: bool = False


@dataclass(frozen=True)
class Share:
    """What one support bears.

    Fields:
        name [-]: the support
        nominal_kg [kg]: with the centre of gravity and the mass as given
        worst_kg [kg]: the most, wherever in its uncertainty the load is
        least_kg [kg]: the least, likewise
        envelope_min_kg [kg]: the least if nothing is known about how the supports give
        envelope_max_kg [kg]: the most, likewise
        judged_kg [kg]: the figure to judge this support by: its envelope when stiff, else its worst share
    """

    name: str
    nominal_kg: float
    worst_kg: float
    least_kg: float
    envelope_min_kg: float
    envelope_max_kg: float
    judged_kg: float


@dataclass(frozen=True)
class Shares:
    """The shares of all supports.

    Fields:
        method [-]: 'exact' by balance alone, or 'equal stiffness'
        shares [-]: one per support, in the order given
        people_most_kg [kg]: the most that those who are not stiff bear together: the heaviest load less the least that
            the stiff ones can bear of it together, however they give
    """

    method: str
    shares: tuple[Share, ...]
    people_most_kg: float


def support_shares(
    mass_kg: float,
    supports: Sequence[Support],
    cog_x_mm: float,
    cog_y_mm: float = 0.0,
    cog_plus_minus_x_mm: float = 0.0,
    cog_plus_minus_y_mm: float = 0.0,
    region: Literal["box", "ellipse"] = "box",
    mass_plus_minus_kg: float = 0.0,
) -> Shares:
    """What each support bears, with the centre of gravity and the mass uncertain.

    Formula: ΣR = W, ΣR·x = W·x_g, ΣR·y = W·y_g; 4+ supports R = Aᵀ(A·Aᵀ)⁻¹b, a support that would pull is
        left out
    Args:
        mass_kg [kg]: the whole load; 0.1..20000
        supports [-]: 1 to 8 places; the load may not tip off them. Of one support, or of the line of several in one
            line, the centre of gravity is at most 50 mm off (a limit of this project), however uncertain it is
        cog_x_mm [mm]: centre of gravity along the load; -100000..100000
        cog_y_mm [mm]: centre of gravity across the load; -100000..100000
        cog_plus_minus_x_mm [mm]: it may be this far off, along; 0..5000
        cog_plus_minus_y_mm [mm]: it may be this far off, across; 0..5000
        region [-]: the uncertainty is a box, or an ellipse (a circle when both figures are equal)
        mass_plus_minus_kg [kg]: the mass may be this far off; 0..2000
    Returns: Shares
    Picture: lift_from_above
    Source: balance of forces and moments (any statics text); equal stiffness as least squares; envelope by
        linear programming. With 4+ supports the worst and least estimate is taken over a 5 by 5 grid of the
        uncertainty, and an ellipse counts as the eight-sided figure around it.
    Example:
        >>> pair = [Support("near", 0), Support("far", 1340)]
        >>> [round(s.nominal_kg, 2) for s in support_shares(186, pair, 520).shares]
        [113.82, 72.18]
    """
    check_range("mass_kg", mass_kg, 0.1, 20000)
    check_range("cog_x_mm", cog_x_mm, -1e5, 1e5)
    check_range("cog_y_mm", cog_y_mm, -1e5, 1e5)
    check_range("cog_plus_minus_x_mm", cog_plus_minus_x_mm, 0, 5000)
    check_range("cog_plus_minus_y_mm", cog_plus_minus_y_mm, 0, 5000)
    check_range("mass_plus_minus_kg", mass_plus_minus_kg, 0, 2000)
    check_choice("region", region, ("box", "ellipse"))
    if mass_plus_minus_kg >= mass_kg:
        raise CalcError("mass_plus_minus_kg", "is as large as the mass itself.", "Weigh the load.")
    points = _checked(supports)
    half = (cog_plus_minus_x_mm, cog_plus_minus_y_mm)
    line = _direction(points)
    if line is not None:
        points, cog, half = _onto_line(points, line, (cog_x_mm, cog_y_mm), half, region)
        region = "box"
    else:
        cog = (cog_x_mm, cog_y_mm)
    corners = _corners(cog, half, region)
    for corner in corners:
        if not _holds(points, corner):
            sure = not _holds(points, cog)
            raise CalcError(
                "cog_x_mm",
                "The load tips: its centre of gravity is outside the supports."
                if sure
                else "The load may tip: its centre of gravity is not surely inside the supports.",
                "Move a support, or find the centre of gravity more closely.",
            )
    exact = len(points) == 2 or (len(points) == 3 and line is None) or len(points) == 1
    nominal = estimate(points, cog)
    people = [i for i, support in enumerate(supports) if not support.stiff]
    groups = [*([i] for i in range(len(points))), people]
    if exact:
        envelope = _linear_range(points, cog, half, region, groups)
        low, high = map(list, zip(*envelope, strict=True))
    else:
        grid = [estimate(points, at) for at in _grid(cog, half, region)]
        low = [min(column) for column in zip(*grid, strict=True)]
        high = [max(column) for column in zip(*grid, strict=True)]
        envelope = _envelope(points, corners, groups)
    light, heavy = mass_kg - mass_plus_minus_kg, mass_kg + mass_plus_minus_kg
    shares = []
    for i, support in enumerate(supports):
        worst, most = high[i] * heavy, max(envelope[i][1], high[i]) * heavy
        shares.append(
            Share(
                name=support.name,
                nominal_kg=nominal[i] * mass_kg,
                worst_kg=worst,
                least_kg=low[i] * light,
                envelope_min_kg=min(envelope[i][0], low[i]) * light,
                envelope_max_kg=most,
                judged_kg=most if support.stiff else worst,
            )
        )
    return Shares("exact" if exact else "equal stiffness", tuple(shares), envelope[-1][1] * heavy)


def estimate(points: Sequence[Point], cog: Point) -> list[float]:
    """Each support's part of the load (sum 1): by balance alone, else equal stiffness with lift-off.

    Equal springs that can't pull take the least sum of squares that balances; which of them let go is found by trying
    every way, because one that pulled at first may bear again once another has let go.
    """
    everyone = range(len(points))
    parts = _least_squares(points, cog)
    if min(parts) < -_TINY:
        ways = (
            dict(zip(chosen, borne, strict=True))
            for size in range(1, len(points))
            for chosen in combinations(everyone, size)
            if (borne := _balance([points[i] for i in chosen], cog)) and min(borne) >= -_SLACK
        )
        least = min(ways, key=lambda way: sum(part**2 for part in way.values()))
        parts = [least.get(i, 0.0) for i in everyone]
    return [max(part, 0.0) for part in parts]


def _checked(supports: Sequence[Support]) -> list[Point]:
    if not 1 <= len(supports) <= 8:
        raise CalcError("supports", f"{len(supports)} places given.", "Give 1 to 8.")
    names = [support.name for support in supports]
    if len(set(names)) < len(names):
        raise CalcError("supports", "two places have the same name.", "Give each its own name.")
    for i, support in enumerate(supports):
        check_range(f"supports[{i}].x_mm", support.x_mm, -1e5, 1e5)
        check_range(f"supports[{i}].y_mm", support.y_mm, -1e5, 1e5)
    points = [(support.x_mm, support.y_mm) for support in supports]
    for (i, a), (j, b) in combinations(enumerate(points), 2):
        if math.dist(a, b) < 1:
            raise CalcError(
                "supports", f"{names[i]} and {names[j]} are at one place.", "Give each its own place."
            )
    return points


def _direction(points: Sequence[Point]) -> Point | None:
    """The unit vector of the line all points lie on, or None. One point counts as a line along x."""
    if len(points) == 1:
        return (1.0, 0.0)
    first, last = max(combinations(points, 2), key=lambda pair: math.dist(*pair))
    span = math.dist(first, last)
    along = ((last[0] - first[0]) / span, (last[1] - first[1]) / span)
    off = max(abs((p[0] - first[0]) * along[1] - (p[1] - first[1]) * along[0]) for p in points)
    return along if off < 1e-3 * span else None


def _onto_line(
    points: list[Point], line: Point, cog: Point, half: Point, region: str
) -> tuple[list[Point], Point, Point]:
    """Supports in one line hold the load upright; only the distance along the line shares it.

    A centre of gravity beside the line turns the load over. How far it may lie there as measured is fixed: not knowing
    it well must not let through what a close measurement would refuse.
    """
    origin = points[0]
    across = abs((cog[0] - origin[0]) * line[1] - (cog[1] - origin[1]) * line[0])
    if len(points) > 1 and across > BESIDE_MM + _SLACK:
        raise CalcError(
            "cog_y_mm",
            f"The load tips sideways: its centre of gravity is {across:.0f} mm beside the line of the supports, and may "
            f"be at most {BESIDE_MM} mm beside it.",
            "Add a support on that side, or move the supports under it.",
        )

    def along(p: Point) -> Point:
        return ((p[0] - origin[0]) * line[0] + (p[1] - origin[1]) * line[1], 0.0)

    if len(points) == 1:  # one hook or one person: the load comes to rest under it, unless it was never near
        off = math.dist(origin, cog)
        if off > BESIDE_MM + _SLACK:
            raise CalcError(
                "cog_x_mm",
                f"The one support is not over the centre of gravity: it is {off:.0f} mm away, and may be at most "
                f"{BESIDE_MM} mm.",
                "Move it there.",
            )
        return [(0.0, 0.0)], (0.0, 0.0), (0.0, 0.0)
    return [along(p) for p in points], along(cog), (_reach(line, half, region), 0.0)


def _reach(way: Point, half: Point, region: str) -> float:
    """How far the uncertainty reaches in the direction `way` (its length counts)."""
    a, b = abs(way[0]) * half[0], abs(way[1]) * half[1]
    return a + b if region == "box" else math.hypot(a, b)


def _corners(cog: Point, half: Point, region: str) -> list[Point]:
    """Corners of the box, or of the eight-sided figure around the ellipse."""
    if region == "box":
        offsets = list(product((-1.0, 1.0), repeat=2))
    else:
        out = 1 / math.cos(math.pi / 8)
        offsets = [
            (out * math.cos(math.pi / 8 * k), out * math.sin(math.pi / 8 * k)) for k in range(1, 16, 2)
        ]
    return list(dict.fromkeys((cog[0] + dx * half[0], cog[1] + dy * half[1]) for dx, dy in offsets))


def _grid(cog: Point, half: Point, region: str) -> list[Point]:
    steps = (-1.0, -0.5, 0.0, 0.5, 1.0)
    points = []
    for u, v in product(steps, steps):
        if region == "ellipse":
            u, v = u * math.sqrt(1 - v * v / 2), v * math.sqrt(1 - u * u / 2)
        points.append((cog[0] + u * half[0], cog[1] + v * half[1]))
    return list(dict.fromkeys(points))


def _linear_range(
    points: list[Point], cog: Point, half: Point, region: str, groups: list[list[int]]
) -> list[tuple[float, float]]:
    """Least and most of what each group of supports bears, where parts are linear in the place of the centre of gravity."""
    here = _least_squares(points, cog)
    right = _least_squares(points, (cog[0] + 1, cog[1]))
    up = _least_squares(points, (cog[0], cog[1] + 1))
    ranges = []
    for group in groups:
        part, along, across = (sum(parts[i] for i in group) for parts in (here, right, up))
        swing = _reach((along - part, across - part), half, region)
        ranges.append((max(part - swing, 0.0), min(part + swing, 1.0)))
    return ranges


def _least_squares(points: Sequence[Point], cog: Point) -> list[float]:
    """Parts with the least sum of squares that balance the load; for 1 to 3 independent supports the only
    ones. Some of many supports may lie in a line that is not along x: what comes out for them does not balance.

    Moments are taken about the middle of the supports and scaled, which keeps the equations well behaved.
    """
    n = len(points)
    mx, my = sum(p[0] for p in points) / n, sum(p[1] for p in points) / n
    size = max(math.hypot(p[0] - mx, p[1] - my) for p in points) or 1.0
    xy = [((p[0] - mx) / size, (p[1] - my) / size) for p in points]
    gx, gy = (cog[0] - mx) / size, (cog[1] - my) / size
    sxx, syy, sxy = sum(x * x for x, _ in xy), sum(y * y for _, y in xy), sum(x * y for x, y in xy)
    determinant = sxx * syy - sxy * sxy
    a, b = 0.0, 0.0
    if determinant > _TINY:
        a, b = (gx * syy - gy * sxy) / determinant, (gy * sxx - gx * sxy) / determinant
    elif sxx > _TINY:  # one line, which was laid along x: only the distance along it counts
        a = gx / sxx
    return [1 / n + a * x + b * y for x, y in xy]


def _holds(points: Sequence[Point], cog: Point) -> bool:
    """Whether the load stays on its supports: some parts, none of them pulling, balance it."""
    return any(
        min(parts) >= -_SLACK
        for size in (1, 2, 3)
        for chosen in combinations(points, min(size, len(points)))
        if (parts := _balance(chosen, cog)) is not None
    )


def _balance(points: Sequence[Point], cog: Point) -> list[float] | None:
    parts = _least_squares(points, cog)
    span = max(1.0, max(math.dist(p, cog) for p in points))
    x = sum(r * p[0] for r, p in zip(parts, points, strict=True))
    y = sum(r * p[1] for r, p in zip(parts, points, strict=True))
    return parts if math.hypot(x - cog[0], y - cog[1]) <= _SLACK * span else None


def _envelope(
    points: list[Point], corners: list[Point], groups: list[list[int]]
) -> list[tuple[float, float]]:
    """Least and most of what each group of supports bears, over all ways to bear the load with its centre anywhere
    between the corners.

    A linear programme in the parts R and the weights λ of the corners (ΣR = 1, Σλ = 1, ΣR·p = Σλ·c) reaches
    its ends at a basic solution, at most four values above zero, so trying them all is exact.
    """
    scale = max(math.hypot(*p) for p in (*points, *corners))
    columns = [[1.0, 0.0, p[0] / scale, p[1] / scale] for p in points]
    columns += [[0.0, 1.0, -c[0] / scale, -c[1] / scale] for c in corners]
    rows = (
        3 if all(p[1] == 0 for p in (*points, *corners)) else 4
    )  # in one line the last equation says nothing
    low, high = [math.inf] * len(groups), [-math.inf] * len(groups)
    for basis in combinations(range(len(columns)), rows):
        solved = _solve([columns[k][:rows] for k in basis], [1.0, 1.0, 0.0, 0.0][:rows])
        if solved is None or min(solved) < -1e-8:
            continue
        found = dict(zip(basis, solved, strict=True))
        for i, group in enumerate(groups):
            part = sum(found.get(member, 0.0) for member in group)
            low[i], high[i] = min(low[i], part), max(high[i], part)
    return [(max(a, 0.0), min(b, 1.0)) for a, b in zip(low, high, strict=True)]


def _solve(columns: list[list[float]], right: list[float]) -> list[float] | None:
    """Solve Σ x_k·column_k = right by elimination; None when the columns are not independent."""
    size = len(right)
    rows = [[column[r] for column in columns] + [right[r]] for r in range(size)]
    for c in range(size):
        pivot = max(range(c, size), key=lambda r: abs(rows[r][c]))
        if abs(rows[pivot][c]) < _TINY:
            return None
        rows[c], rows[pivot] = rows[pivot], rows[c]
        for r in range(size):
            if r != c:
                factor = rows[r][c] / rows[c][c]
                rows[r] = [a - factor * b for a, b in zip(rows[r], rows[c], strict=True)]
    return [rows[r][size] / rows[r][r] for r in range(size)]
