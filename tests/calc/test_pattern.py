"""Tightening order and passes."""

import itertools
import math
from fractions import Fraction

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.pattern import Shape, pass_target, pattern_places, tightening_order, tightening_passes


@pytest.mark.parametrize(
    ("count", "order"),
    [
        # Clock rule 12, 6, 3, 9, 1:30, 7:30, then the last pair: gasket maker's note on bolting flanges.
        pytest.param(8, (1, 5, 3, 7, 2, 6, 4, 8), id="Q1"),
        pytest.param(4, (1, 3, 2, 4), id="Q2-4"),
        # Star: skip one.
        pytest.param(5, (1, 3, 5, 2, 4), id="Q2-5"),
        pytest.param(1, (1,), id="one"),
        pytest.param(2, (1, 2), id="two"),
        pytest.param(3, (1, 2, 3), id="three"),
        pytest.param(7, (1, 4, 7, 3, 6, 2, 5), id="seven, skipping two each time"),
    ],
)
def test_published_orders(count: int, order: tuple[int, ...]) -> None:
    """Orders that the trade prints come out."""
    assert tightening_order(count) == order


@pytest.mark.parametrize(
    ("shape", "side_ratio"),
    [("circle", 1), ("rectangle", 2.5), ("rectangle", 1), ("rectangle", 0.3), ("rectangle", 0.1)],
)
@pytest.mark.parametrize("count", range(1, 65))
def test_order_invariants(count: int, shape: Shape, side_ratio: float) -> None:
    """Q3: each bolt once; even counts: every second move is straight across; from 5 up: never on to a
    neighbour.
    """
    order = tightening_order(count, shape, side_ratio)

    assert sorted(order) == list(range(1, count + 1))
    if count % 2 == 0:
        assert all((order[i + 1] - order[i]) % count == count // 2 for i in range(0, count, 2))
    if count >= 5:
        assert all((b - a) % count not in (1, count - 1) for a, b in itertools.pairwise(order))


def test_pairs_halve_the_angle() -> None:
    """Q1: with 16 bolts the first four pairs are spread by 45°, none between is touched before."""
    assert set(tightening_order(16)[:8]) == {1, 3, 5, 7, 9, 11, 13, 15}


def test_rectangle_goes_from_the_middle_outward() -> None:
    """On a long cover the first pair is nearest the middle and the last nearest the corners."""
    places = {p.number: math.hypot(p.x, p.y) for p in pattern_places(14, "rectangle", 3)}
    order = tightening_order(14, "rectangle", 3)
    distance = [places[n] for n in order[::2]]

    assert distance == sorted(distance)
    # By hand, 2 by 2/3: six along the top at x = -1, -0.6, -0.2 and so on, one in the middle of each short side.
    assert order[:2] == (3, 10)


def test_a_rectangle_has_bolts_at_its_corners_first() -> None:
    """Four bolts are its corners, whatever its shape; two more go on the longer sides, and are tightened first."""
    for ratio in (0.1, 1, 10):
        assert tightening_order(4, "rectangle", ratio) == (1, 3, 2, 4)
        w, h = min(1, ratio), min(1, 1 / ratio)
        found = [(p.x, p.y) for p in pattern_places(4, "rectangle", ratio)]
        assert found == [pytest.approx(xy) for xy in ((-w, -h), (w, -h), (w, h), (-w, h))]
    assert set(tightening_order(6, "rectangle", 3)[:2]) == {2, 5}  # middle of top and bottom
    assert set(tightening_order(6, "rectangle", 0.3)[:2]) == {3, 6}  # middle of right and left
    fifth = pattern_places(5, "rectangle", 2)
    assert (fifth[1].x, fifth[1].y) == pytest.approx((0, -0.5))  # an odd one stands on top


def test_few_bolts_in_a_rectangle() -> None:
    """By hand, 4 wide and 1 high (1 by 1/4): one at the top, two at top and bottom, three as on a circle drawn out to the
    sides; six on a square have theirs in the middle of top and bottom.
    """
    places = [[(p.x, p.y) for p in pattern_places(count, "rectangle", 4)] for count in (1, 2, 3)]
    out = math.sqrt(0.75)

    assert places[0] == [pytest.approx((0, -0.25))]
    assert places[1] == [pytest.approx(xy, abs=1e-9) for xy in ((0, -0.25), (0, 0.25))]
    assert places[2] == [pytest.approx(xy) for xy in ((0, -0.25), (out, 0.125), (-out, 0.125))]
    assert [(p.x, p.y) for p in pattern_places(6, "rectangle", 1)] == [
        pytest.approx(xy) for xy in ((-1, -1), (0, -1), (1, -1), (1, 1), (0, 1), (-1, 1))
    ]


A, T = math.sqrt(0.5), 1 / 3


@pytest.mark.parametrize(
    ("shape", "ratio", "expected"),
    [
        ("circle", 1, [(0, -1), (A, -A), (1, 0), (A, A), (0, 1), (-A, A), (-1, 0), (-A, -A)]),
        # Square: the corners and the middle of every side. Two to one: sides 2 and 1 long, so two more go on each long one.
        ("rectangle", 1, [(-1, -1), (0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0)]),
        (
            "rectangle",
            2,
            [(-1, -0.5), (-T, -0.5), (T, -0.5), (1, -0.5), (1, 0.5), (T, 0.5), (-T, 0.5), (-1, 0.5)],
        ),
        (
            "rectangle",
            0.5,
            [(-0.5, -1), (0.5, -1), (0.5, -T), (0.5, T), (0.5, 1), (-0.5, 1), (-0.5, T), (-0.5, -T)],
        ),
        # Three to two: after one on each long side (gaps of 1) the short ones, 4/3 long, are next.
        (
            "rectangle",
            1.5,
            [
                (x, y * 2 / 3)
                for x, y in ((-1, -1), (0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0))
            ],
        ),
    ],
)
def test_places_by_hand(shape: Shape, ratio: float, expected: list[tuple[float, float]]) -> None:
    """Eight bolts every 45° on a circle, or at the corners of a rectangle and between them, from the top left."""
    assert [(p.x, p.y) for p in pattern_places(8, shape, ratio)] == [pytest.approx(xy) for xy in expected]


def test_nobody_says_the_shape() -> None:
    """Left out, the shape is a circle, the rectangle a square, the levels 30, 60, 100."""
    assert pattern_places(8) == pattern_places(8, "circle", 1)
    for call in (pattern_places, tightening_order):
        assert call(18, "rectangle") == call(18, "rectangle", 1) != call(18, "rectangle", 1.1)
    assert tightening_passes(18, shape="rectangle") == tightening_passes(18, (30, 60, 100), "rectangle", 1)


@pytest.mark.parametrize("shape", ["circle", "rectangle"])
def test_drawn_places(shape: Shape) -> None:
    """Bolt 1 is at the top, the group is inside its frame, opposite bolts are drawn opposite,
    turns count up.
    """
    places = pattern_places(8, shape, 2)

    assert (places[0].x, places[0].y) == pytest.approx((0, -1) if shape == "circle" else (-1, -0.5))
    assert places[1].x > places[0].x  # clockwise
    assert max(max(abs(p.x), abs(p.y)) for p in places) <= 1 + 1e-9
    for p, q in zip(places[:4], places[4:], strict=True):
        assert (p.x, p.y) == pytest.approx((-q.x, -q.y))
    assert [p.number for p in sorted(places, key=lambda p: p.turn)] == list(tightening_order(8, shape, 2))


def test_passes() -> None:
    """Q4: 30, 60, 100 %, then once round at 100 %; no bolt gets the next level before all have the last."""
    rounds = tightening_passes(8)

    assert [(r.number, r.percent, r.circular) for r in rounds] == [
        (1, 30, False),
        (2, 60, False),
        (3, 100, False),
        (4, 100, True),
    ]
    assert all(sorted(r.order) == list(range(1, 9)) for r in rounds)
    assert rounds[-1].order == tuple(range(1, 9))
    assert [r.percent for r in tightening_passes(2, (50, 100))] == [50, 100]
    assert [r.circular for r in tightening_passes(3, (50, 100))] == [False, False, True]


def test_bad_passes() -> None:
    """R32: levels that do not rise to 100 and counts out of range are refused by name."""
    for percents in ((), (30, 60), (60, 30, 100), (0, 100), (50, 50, 100)):
        with pytest.raises(CalcError) as refused:
            tightening_passes(8, percents)
        assert refused.value.field == "percents"
    for count in (0, 65):
        with pytest.raises(CalcError, match="count"):
            tightening_order(count)


def test_pass_target_is_exact() -> None:
    """R16: 30 % of 92 is 27.6, not nearly."""
    assert pass_target(Fraction(92), Fraction(30)) == Fraction("27.6")
