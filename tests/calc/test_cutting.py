"""Cutting against optima proved outside."""

from fractions import Fraction as F

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from yokemate.calc.cutting import Piece, cut_plan
from yokemate.calc.errors import CalcError


def pieces(*rows: tuple[str, int]) -> list[Piece]:
    return [Piece(F(length), count) for length, count in rows]


# Optima proved by a solver outside; K2's demands are the textbook case of a modelling library.
@pytest.mark.parametrize(
    ("stock", "rows", "kerf", "best", "greedy"),
    [
        pytest.param(
            "100", [("45", 97), ("36", 500), ("36", 110), ("31", 395), ("14", 211)], "0", 453, 485, id="K2"
        ),
        pytest.param("1500", [("620", 2), ("480", 3), ("350", 3), ("270", 2)], "0", 3, 4, id="K3"),
        pytest.param("1000", [("500", 2), ("340", 3), ("330", 3), ("160", 4)], "0", 4, None, id="K5"),
        pytest.param("1000", [("500", 2), ("340", 3), ("330", 3), ("160", 4)], "2", 4, None, id="K5 kerf 2"),
    ],
)
def test_cutting(stock: str, rows: list[tuple[str, int]], kerf: str, best: int, greedy: int | None) -> None:
    """The fewest bars, proved, with the bound and the longest-first answer beside it."""
    plan = cut_plan(F(stock), pieces(*rows), F(kerf))

    assert (plan.bars, plan.proved) == (best, True)
    assert plan.bound <= plan.bars <= plan.longest_first
    assert sum(bar.bars for bar in plan.longest_first_cuts) == plan.longest_first
    if greedy is not None:
        assert plan.longest_first == greedy
    assert [bar.pieces_mm for bar in plan.cuts] == sorted((bar.pieces_mm for bar in plan.cuts), reverse=True)
    assert all(list(bar.pieces_mm) == sorted(bar.pieces_mm, reverse=True) for bar in plan.cuts)


def test_cutting_longest_first_by_hand() -> None:
    """K3 by hand, 1500 mm: 620 620 (260 left, 270 is too long); 480 480 480; 350 350 350 270 (180 left); 270 (1230 left)."""
    plan = cut_plan(F(1500), pieces(("620", 2), ("480", 3), ("350", 3), ("270", 2)))

    assert [
        (bar.bars, [int(p) for p in bar.pieces_mm], int(bar.offcut_mm)) for bar in plan.longest_first_cuts
    ] == [
        (1, [620, 620], 260),
        (1, [480, 480, 480], 60),
        (1, [350, 350, 350, 270], 180),
        (1, [270], 1230),
    ]


@pytest.mark.parametrize(("stock", "kerf", "best"), [(72, F(0), 2), (72, F(1, 8), 2), (60, F(0), 3)])
def test_cutting_in_inches(stock: int, kerf: F, best: int) -> None:
    """K4: 72 in sticks, fractions of an inch kept exact, also with 1/8 kerf; three on 60 in sticks."""
    rows = [(F("9.625"), 2), (F("12.4375"), 2), (F("6.1875"), 3), (F(683, 32), 2), (F("15.375"), 1)]
    plan = cut_plan(
        stock * F("25.4"), [Piece(length * F("25.4"), count) for length, count in rows], kerf * F("25.4")
    )

    assert plan.bars == best


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(min_value=50, max_value=900), st.integers(min_value=1, max_value=4)),
        min_size=1,
        max_size=5,
    ),
    st.integers(min_value=0, max_value=3),
)
def test_every_piece_is_cut_once(rows: list[tuple[int, int]], kerf: int) -> None:
    """Every piece is on exactly one bar, every bar holds its pieces and kerfs, never more bars
    than longest-first.
    """
    plan = cut_plan(F(1000), [Piece(F(length), count) for length, count in rows], F(kerf))
    cut = sorted(p for bar in plan.cuts for p in bar.pieces_mm * bar.bars)

    assert cut == sorted(F(length) for length, count in rows for _ in range(count))
    for bar in plan.cuts:
        assert sum(p + kerf for p in bar.pieces_mm) <= 1000 + kerf
        assert bar.offcut_mm == max(1000 - sum(p + kerf for p in bar.pieces_mm), 0)
    assert plan.bound <= plan.bars <= plan.longest_first


@pytest.mark.parametrize(
    ("length", "count", "per_bar", "offcut"),
    [
        pytest.param("45", 20, 2, 0, id="45 + 10 + 45 is all"),
        pytest.param("50", 6, 1, 40, id="50 + 10 + 50 is too much"),
        pytest.param("30", 8, 2, 20, id="30 + 10 + 30 + 10, and 20 are no third"),
        pytest.param("100", 3, 1, 0, id="as long as the bar"),
    ],
)
def test_kerfs_by_hand(length: str, count: int, per_bar: int, offcut: int) -> None:
    """Bars of 100 and a kerf of 10: one is lost between two pieces, and behind the last where something is left."""
    plan = cut_plan(F(100), pieces((length, count)), F(10))
    (bar,) = plan.cuts

    assert (plan.bars, plan.longest_first, plan.proved) == (count / per_bar, count / per_bar, True)
    assert (bar.bars, bar.pieces_mm, bar.offcut_mm) == (count / per_bar, (F(length),) * per_bar, offcut)


def test_bound_by_hand() -> None:
    """Twenty of 45 with kerf 10 are 1100 of 110 a bar: 10 bars. K5 with kerf 2 is 3650 + 13 × 2 of 1002: 4 bars, not 3.7."""
    assert cut_plan(F(100), pieces(("45", 20)), F(10)).bound == 10
    assert cut_plan(F(1000), pieces(("500", 2), ("340", 3), ("330", 3), ("160", 4)), F(2)).bound == 4


def test_no_kerf_unless_said() -> None:
    """A knife loses nothing."""
    assert cut_plan(F(1000), pieces(("500", 2))).bars == 1


def fewest(room: int, left: tuple[int, ...], open_bars: tuple[int, ...] = ()) -> int:
    """The fewest bars by trying every way: the first piece goes on each bar that has room, or on a new one."""
    if not left:
        return len(open_bars)
    first, others = left[0], left[1:]
    ways = [fewest(room, others, (*open_bars, room - first))]
    for i in {r: i for i, r in enumerate(open_bars) if r >= first}.values():
        ways.append(fewest(room, others, (*open_bars[:i], open_bars[i] - first, *open_bars[i + 1 :])))
    return min(ways)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(min_value=12, max_value=60), st.integers(min_value=1, max_value=3)),
        min_size=1,
        max_size=4,
        unique_by=lambda row: row[0],
    ).filter(lambda rows: sum(count for _, count in rows) <= 8),
    st.integers(min_value=0, max_value=9),
)
@example([(42, 2), (19, 3), (22, 2)], 0)  # longest first takes one more
@example([(41, 2), (47, 2), (21, 1), (26, 3)], 3)
@example([(41, 2), (24, 3), (18, 2), (60, 1)], 7)
@example([(28, 3), (30, 1), (18, 2), (48, 2)], 7)
@example([(60, 3)], 0)  # more than the total length says
def test_nobody_finds_fewer(rows: list[tuple[int, int]], kerf: int) -> None:
    """The fewest bars of 100, proved, are as many as trying every way finds; every piece is cut once, on a bar that holds it."""
    plan = cut_plan(F(100), [Piece(F(length), count) for length, count in rows], F(kerf))
    wanted = [length for length, count in rows for _ in range(count)]

    assert (plan.bars, plan.proved) == (fewest(100 + kerf, tuple(length + kerf for length in wanted)), True)
    assert sorted(p for bar in plan.cuts for p in bar.pieces_mm * bar.bars) == sorted(wanted)
    assert all(sum(bar.pieces_mm) + kerf * len(bar.pieces_mm) <= 100 + kerf for bar in plan.cuts)


def test_without_time_longest_first_is_given(monkeypatch: pytest.MonkeyPatch) -> None:
    """K2: a solver that may not work proves nothing, and longest-first stands."""
    monkeypatch.setattr("yokemate.calc.cutting._WORK_LIMIT", 0.0)
    plan = cut_plan(F(100), pieces(("45", 97), ("36", 500), ("36", 110), ("31", 395), ("14", 211)))

    assert (plan.proved, plan.bars, plan.cuts) == (False, 485, plan.longest_first_cuts)


def test_how_many_lengths() -> None:
    """R32: 20 lengths are cut, 21 are too many."""
    assert cut_plan(F(100), pieces(*((str(n), 1) for n in range(81, 101)))).bars == 20
    with pytest.raises(CalcError, match="1 to 20 lengths"):
        cut_plan(F(101), pieces(*((str(n), 1) for n in range(81, 102))))


# Three of 501 fill two bars of 1000 by their length, and yet each wants its own: longest first proves nothing here.
APART = ("501", 3)


def test_how_many_ways() -> None:
    """R32, by hand: beside 0 or 1 of 501 any of 0 to 19 of 10, 0 to 19 of 6 and 0 to 24 of 3 fit a bar, and the one of 2 always:
    2 × 20 × 20 × 25 = 20 000 ways; a piece of 1000 fills a bar and is one way more, which is too many. Nineteen lengths twice
    each are 2 × 3^18 ways, and are refused without going through them.
    """
    for rows in (
        [("1000", 1), APART, ("10", 19), ("6", 19), ("3", 24), ("2", 1)],
        [APART, *((str(n), 2) for n in range(1, 20))],
    ):
        with pytest.raises(CalcError, match="too many ways"):
            cut_plan(F(1000), pieces(*rows))


def test_as_many_ways_as_may_be(monkeypatch: pytest.MonkeyPatch) -> None:
    """By hand: 501 + 400, and 400 alone, are two ways to cut 1000 that leave no room for a piece; where two may be compared,
    the three bars are proved.
    """
    monkeypatch.setattr("yokemate.calc.cutting._MOST_PATTERNS", 2)
    plan = cut_plan(F(1000), pieces(APART, ("400", 1)))

    assert (plan.bars, plan.proved, plan.bound) == (3, True, 2)


def test_cutting_refused() -> None:
    """R32: a piece longer than the stock, and an empty list."""
    with pytest.raises(CalcError, match="longer than the stock"):
        cut_plan(F(100), pieces(("101", 1)))
    with pytest.raises(CalcError):
        cut_plan(F(100), [])
