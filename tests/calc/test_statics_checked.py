"""Load shares held against independent numerics: equal springs that can't pull by scipy's nnls, the envelope by its linprog."""

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog, nnls

from yokemate.calc.errors import CalcError
from yokemate.calc.statics import Support, support_shares

Places = Sequence[tuple[float, float]]
Region = Literal["box", "ellipse"]


def at(places: Places) -> list[Support]:
    return [Support(str(i), x, y) for i, (x, y) in enumerate(places)]


def springs(places: Places, x: float, y: float) -> list[float]:
    """Least Σr² of r ≥ 0 with Σr = 1 and the moments of the load: the balance counts a hundred thousandfold."""
    scale = max(map(abs, np.array(places).flat)) or 1.0
    balance = np.vstack([np.ones(len(places)), np.array(places).T / scale])
    left = np.vstack([1e5 * balance, np.eye(len(places))])
    right = np.concatenate([1e5 * np.array([1, x / scale, y / scale]), np.zeros(len(places))])
    return [float(part) for part in nnls(left, right)[0]]


def envelope(
    places: Places, x: float, y: float, dx: float, dy: float, region: Region
) -> list[tuple[float, float]]:
    """Least and most of each part, whatever bears how much, wherever in the region the load is: the region is a box, or
    the eight sides |u| ≤ 1, |v| ≤ 1, |u ± v| ≤ √2 around the ellipse.
    """
    n = len(places)
    equal = np.array(
        [
            [1.0] * n + [0, 0],
            [px for px, _ in places] + [-dx, 0],
            [py for _, py in places] + [0, -dy],
        ]
    )
    sides = [[0.0] * n + [u, v] for u in (-1, 1) for v in (-1, 1)]
    octagon = {"A_ub": np.array(sides), "b_ub": [math.sqrt(2)] * 4} if region == "ellipse" else {}
    bounds = [(0, None)] * n + [(-1, 1)] * 2
    ends = []
    for i in range(n):
        aim = np.eye(n + 2)[i]
        found = [
            linprog(sign * aim, A_eq=equal, b_eq=[1, x, y], bounds=bounds, **octagon) for sign in (1, -1)
        ]
        ends.append((found[0].fun, -found[1].fun))
    return ends


RECTANGLE = [(0, 0), (2400, 0), (2400, 1200), (0, 1200)]
HOUSE = [(0, 0), (2000, 0), (2000, 1500), (1000, 2500), (0, 1500)]
SIX = [(x, y) for x in (0, 1200, 2400) for y in (0, 1200)]
OBLIQUE_LINE = [(0, 0), (600, 800), (1200, 1600)]  # 3-4-5: every 1000 mm


@pytest.mark.parametrize("region", ["box", "ellipse"])
@pytest.mark.parametrize(
    ("places", "x", "y", "dx", "dy"),
    [
        pytest.param(RECTANGLE, 1000, 500, 60, 40, id="rectangle"),
        pytest.param(RECTANGLE, 300, 250, 80, 20, id="near a corner"),
        pytest.param(HOUSE, 900, 1100, 50, 90, id="five"),
        pytest.param(SIX, 1100, 700, 100, 50, id="six"),
        pytest.param(
            [(x - 5000, y + 3000) for x, y in SIX],
            -4000,
            3400,
            30,
            70,
            id="six, far from where it is measured",
        ),
        pytest.param(
            [*HOUSE, (700, 900), (1500, 600), (300, 200)], 1000, 800, 40, 40, id="eight, some within"
        ),
    ],
)
def test_envelope_is_the_linear_programme(
    places: Places, x: float, y: float, dx: float, dy: float, region: Region
) -> None:
    """R20: the least and the most that each support could bear, to a millionth of the load."""
    shares = support_shares(100, at(places), x, y, dx, dy, region).shares
    expected = envelope(places, x, y, dx, dy, region)

    assert [(s.envelope_min_kg, s.envelope_max_kg) for s in shares] == [
        pytest.approx((100 * low, 100 * high), abs=1e-4) for low, high in expected
    ]


@pytest.mark.parametrize("region", ["box", "ellipse"])
def test_worst_and_least_over_the_uncertainty(region: Region) -> None:
    """R20: the estimate's ends over 5 by 5 places of the uncertainty, which an ellipse takes in from the square by
    u·√(1 - v²/2); springs by nnls at each place.
    """
    steps = (-1, -0.5, 0, 0.5, 1)
    places = []
    for u in steps:
        for v in steps:
            a, b = (
                (u * math.sqrt(1 - v * v / 2), v * math.sqrt(1 - u * u / 2))
                if region == "ellipse"
                else (u, v)
            )
            places.append(springs(HOUSE, 900 + 120 * a, 1100 + 200 * b))
    shares = support_shares(100, at(HOUSE), 900, 1100, 120, 200, region, 2).shares

    assert [s.worst_kg for s in shares] == pytest.approx(
        [102 * max(part) for part in zip(*places, strict=True)], abs=1e-4
    )
    assert [s.least_kg for s in shares] == pytest.approx(
        [98 * min(part) for part in zip(*places, strict=True)], abs=1e-4
    )


tenths = st.integers(min_value=-15, max_value=15).map(lambda n: 100 * n)


@settings(max_examples=50, deadline=None)
@given(
    st.lists(st.tuples(tenths, tenths), min_size=3, max_size=8, unique=True),
    st.lists(st.floats(min_value=0, max_value=1), min_size=8, max_size=8),
)
@example([(0, 0), (2000, 0), (2000, 2000), (0, 2000)], [1, 0.1, 0.05, 0.1, 0, 0, 0, 0])
def test_equal_springs_that_can_not_pull(places: Places, weights: list[float]) -> None:
    """Wherever people stand and the load lies among them, the estimate is that of equal springs which can't pull."""
    weights = weights[: len(places)]
    assume(sum(weights) > 0.1)
    x, y = (sum(w * p[k] for w, p in zip(weights, places, strict=True)) / sum(weights) for k in (0, 1))
    try:
        shares = support_shares(100, at(places), x, y).shares
    except CalcError as refused:  # almost in a line: the load may lie beside it
        assume("sideways" not in refused.message)
        raise

    assert [s.nominal_kg for s in shares] == pytest.approx(
        [100 * part for part in springs(places, x, y)], abs=0.02
    )


def test_one_that_pulled_at_first_bears_in_the_end() -> None:
    """By hand: the far support lets go, and three are left to balance: 0.11667, 0.8, 0.08333 (x: -35 - 640 + 25 = -650; y:
    -23.33 + 160 - 66.67 = 70). Whoever leaves out one after the other that would pull ends with two, which do not balance.
    """
    shares = support_shares(100, at([(-300, -200), (800, -100), (-800, 200), (300, -800)]), -650, 70).shares

    assert [s.nominal_kg for s in shares] == pytest.approx([11.667, 0, 80, 8.333], abs=1e-3)


@pytest.mark.parametrize(("region", "reach"), [("box", 22), ("ellipse", math.hypot(6, 16))])
def test_oblique_line_by_hand(region: Region, reach: float) -> None:
    """Along 0.6, 0.8 the uncertainty of 10 by 20 mm reaches 22 mm as a box, 17.09 as an ellipse. Two ends 2 m apart: half, and
    reach/2000 more or less. Three at 0, 1, 2 m and the load at 0.75: 1/3 + 0.125, 1/3, 1/3 - 0.125; the ends could bear 0.25 to
    0.625 and 0 to 0.375, the middle up to 0.75.
    """
    two = support_shares(100, at([(0, 0), (1200, 1600)]), 600, 800, 10, 20, region).shares
    three = support_shares(100, at(OBLIQUE_LINE), 450, 600).shares

    assert (two[0].worst_kg, two[0].least_kg) == pytest.approx((50 + reach / 20, 50 - reach / 20))
    assert [s.nominal_kg for s in three] == pytest.approx([45.8333, 33.3333, 20.8333], abs=1e-3)
    assert [(s.envelope_min_kg, s.envelope_max_kg) for s in three] == [
        pytest.approx(pair, abs=1e-4) for pair in ((25, 62.5), (0, 75), (0, 37.5))
    ]


@pytest.mark.parametrize("places", [[(0, 0), (1200, 1600)], [(600, 800)]], ids=["two", "one"])
@pytest.mark.parametrize(("dx", "dy"), [(0, 0), (10, 20), (500, 500)])
def test_beside_the_line(places: Places, dx: float, dy: float) -> None:
    """Up to 50 mm beside the line of two, or off one, is borne; more turns the load over, however uncertain the place is. The
    line runs along (0.6, 0.8), so (-0.8, 0.6) is across.
    """
    for sign in (-1, 1):
        near, far = ([600 - sign * side * 0.8, 800 + sign * side * 0.6] for side in (49.9, 50.1))
        shares = support_shares(50, at(places), *near, dx, dy, mass_plus_minus_kg=2).shares
        assert [s.nominal_kg for s in shares] == pytest.approx([50 / len(places)] * len(places))
        with pytest.raises(CalcError, match="sideways" if len(places) == 2 else "not over the centre"):
            support_shares(50, at(places), *far, dx, dy)


def test_one_support_bears_the_whole_uncertain_mass() -> None:
    """A hook over the centre bears all there is: 80 kg, give or take 2."""
    (alone,) = support_shares(80, at([(500, 0)]), 540, 0, 300, mass_plus_minus_kg=2).shares
    assert (alone.nominal_kg, alone.worst_kg, alone.least_kg) == (80, 82, 78)
    assert (alone.envelope_min_kg, alone.envelope_max_kg) == (78, 82)


MOVED = (700, -3100)  # where nothing is measured from


def moved(places: Places) -> list[tuple[float, float]]:
    return [(x + MOVED[0], y + MOVED[1]) for x, y in places]


@pytest.mark.parametrize("turn", [1, -1])
def test_a_line_anywhere(turn: int) -> None:
    """By hand, as above, wherever the line lies and whichever way it leans: 100 kg at 0.75 m of 0, 1, 2 m; the same load a metre
    beside turns over; ends 2 m apart with the load at 0.5 m bear 75 and 25.
    """
    line = moved([(x, turn * y) for x, y in OBLIQUE_LINE])
    (beside,) = moved([(1250, 0)])  # 1250 × 0.8 is a metre
    (there,), (quarter,) = moved([(450, turn * 600)]), moved([(300, turn * 400)])

    for places in (line, line[::-1]):
        shares = {s.name: s.nominal_kg for s in support_shares(100, at(places), *there).shares}
        ordered = [shares[str(i)] for i in (range(3) if places is line else (2, 1, 0))]
        assert ordered == pytest.approx([45.8333, 33.3333, 20.8333], abs=1e-3)
        with pytest.raises(CalcError, match="sideways"):
            support_shares(100, at(places), *beside)
    assert [
        s.nominal_kg for s in support_shares(100, at([line[0], line[2]]), *quarter).shares
    ] == pytest.approx([75, 25])


def test_near_the_end_of_a_line() -> None:
    """By hand: of three a metre apart with the load 5 cm from the first, the third lets go: 95 and 5 %."""
    assert [
        s.nominal_kg for s in support_shares(100, at([(0, 0), (1000, 0), (2000, 0)]), 50).shares
    ] == pytest.approx([95, 5, 0])


def test_on_the_edge_of_many() -> None:
    """By hand: on the edge between two of five that stand elsewhere, off the axes, those two alone bear it: 3/4 and 1/4."""
    house = moved([(0, 0), (2000, 400), (2000, 1500), (1000, 2500), (0, 1500)])
    (there,) = moved([(500, 100)])

    assert [s.nominal_kg for s in support_shares(100, at(house), *there).shares] == pytest.approx(
        [75, 25, 0, 0, 0], abs=1e-3
    )


def test_uncertain_along_one_axis_more() -> None:
    """By hand: the part of the corner of three is 1 - x/2000 - y/2000, 0.45 there; ± 20 and ± 40 mm make 0.03 of it."""
    corner = support_shares(100, at([(0, 0), (2000, 0), (0, 2000)]), 800, 300, 20, 40).shares[0]

    assert (corner.nominal_kg, corner.worst_kg, corner.least_kg) == pytest.approx((45, 48, 42))


def test_what_counts_as_a_line() -> None:
    """Off by less than a thousandth of its span three supports are a line and share by stiffness; off by more, by balance."""
    for off, method in ((1.9, "equal stiffness"), (2.1, "exact")):
        places = moved([(0, 0), (1000, off), (2000, 0)])
        (there,) = moved([(1000, 0.5)])
        assert support_shares(50, at(places), *there).method == method


def test_how_near_and_how_many() -> None:
    """R32: two places a millimetre apart are two, nearer they are one; eight are shared between."""
    assert len(support_shares(10, at([(0, 0), (1, 0)]), 0.5).shares) == 2
    assert len(support_shares(10, at([(x, 0) for x in range(0, 800, 100)]), 350).shares) == 8
    with pytest.raises(CalcError, match="at one place"):
        support_shares(10, at([(0, 0), (0.9, 0)]), 0.5)


def test_nothing_is_uncertain_unless_said() -> None:
    """By hand: on the edge between two of three, across 0 unless said, each of the two bears half, at worst and at least."""
    shares = support_shares(100, at([(0, 0), (2000, 0), (0, 2000)]), 1000).shares

    for values in zip(*((s.nominal_kg, s.worst_kg, s.least_kg) for s in shares), strict=True):
        assert values == pytest.approx((50, 50, 0), abs=1e-9)


@pytest.mark.parametrize("places", [RECTANGLE, [*RECTANGLE, (1200, 600)]])
def test_on_an_edge_across(places: Places) -> None:
    """By hand: on the edge across, a quarter of the way from the first to the last, those two alone bear it: 3/4 and 1/4."""
    shares = support_shares(100, at(places), 0, RECTANGLE[3][1] / 4).shares

    assert {s.name: s.nominal_kg for s in shares} == pytest.approx(
        {str(i): {0: 75, 3: 25}.get(i, 0) for i in range(len(places))}, abs=1e-6
    )


def test_a_load_over_one_corner() -> None:
    """Exactly over a support the load holds, and is all its own, by balance and by stiffness."""
    for places in (RECTANGLE, RECTANGLE[:3]):
        assert [s.nominal_kg for s in support_shares(100, at(places), 0, 0).shares] == pytest.approx(
            [100] + [0] * (len(places) - 1)
        )


def test_mirrored_line() -> None:
    """A line that falls is shared like one that rises: 1/4 of the way from the first of two to the second."""
    for places, x, y in (
        ([(0, 0), (1000, -1000)], 250, -250),
        ([(0, 1000), (1000, 0)], 250, 750),
        ([(0, 0), (0, 1000)], 0, 250),
    ):
        assert [s.nominal_kg for s in support_shares(100, at(places), x, y).shares] == pytest.approx([75, 25])
