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
    assert order[0] == 1


def test_a_tall_cover_starts_at_its_sides() -> None:
    """On a cover ten times as tall as wide, bolts 2 and 4 are nearest its middle (by hand: 0.1 against 1 away)."""
    assert tightening_order(4, "rectangle", 0.1) == (2, 4, 1, 3)


A, B, C = math.sqrt(0.5), 0.75, 5 / 6


@pytest.mark.parametrize(
    ("shape", "ratio", "expected"),
    [
        ("circle", 1, [(0, -1), (A, -A), (1, 0), (A, A), (0, 1), (-A, A), (-1, 0), (-A, -A)]),
        # A square's way round is 8 long: every bolt 1 on. Two to one it is 6 long: every bolt 0.75 on.
        ("rectangle", 1, [(0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1)]),
        ("rectangle", 2, [(0, -0.5), (B, -0.5), (1, 0), (B, 0.5), (0, 0.5), (-B, 0.5), (-1, 0), (-B, -0.5)]),
        (
            "rectangle",
            0.5,
            [(0, -1), (0.5, -B), (0.5, 0), (0.5, B), (0, 1), (-0.5, B), (-0.5, 0), (-0.5, -B)],
        ),
        # Three to two it is 20/3 long: every bolt 5/6 on.
        (
            "rectangle",
            1.5,
            [
                (x, y * 2 / 3)
                for x, y in ((0, -1), (C, -1), (1, 0), (C, 1), (0, 1), (-C, 1), (-1, 0), (-C, -1))
            ],
        ),
    ],
)
def test_places_by_hand(shape: Shape, ratio: float, expected: list[tuple[float, float]]) -> None:
    """Eight bolts every 45° on a circle, or evenly along the edge of a rectangle from the middle of its top."""
    assert [(p.x, p.y) for p in pattern_places(8, shape, ratio)] == [pytest.approx(xy) for xy in expected]


def test_nobody_says_the_shape() -> None:
    """Left out, the shape is a circle, the rectangle a square, the levels 30, 60, 100."""
    assert pattern_places(8) == pattern_places(8, "circle", 1)
    for call in (pattern_places, tightening_order):
        assert call(16, "rectangle") == call(16, "rectangle", 1)
    assert tightening_passes(16, shape="rectangle") == tightening_passes(16, (30, 60, 100), "rectangle", 1)


@pytest.mark.parametrize("shape", ["circle", "rectangle"])
def test_drawn_places(shape: Shape) -> None:
    """Bolt 1 is at the top, the group is inside its frame, opposite bolts are drawn opposite,
    turns count up.
    """
    places = pattern_places(8, shape, 2)

    assert places[0].x == pytest.approx(0)
    assert places[0].y < 0
    assert places[1].x > 0  # clockwise
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
