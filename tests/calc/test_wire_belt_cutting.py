"""Wire, belts and cutting against tables, closed forms and proved optima."""

import math
from fractions import Fraction as F

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from yokemate.calc.belt import Pulley, belt_deflection, belt_from_inches, belt_mark, belt_path
from yokemate.calc.cutting import Piece, cut_plan
from yokemate.calc.errors import CalcError
from yokemate.calc.wire import (
    awg,
    extended_resistance,
    fuse_for,
    gauge_for,
    resistance_at,
    splice_area,
    strand_area,
    voltage_drop,
    which_gauge,
)

# gauge: d in, area mm2, mohm/m; the same digits to 0.1 % stand in a stored fusible-link table
AWG = {
    "24": (0.0201, 0.2047, 84.22),
    "22": (0.0253, 0.3255, 52.96),
    "18": (0.0403, 0.8230, 20.95),
    "16": (0.0508, 1.3087, 13.17),
    "14": (0.0641, 2.0809, 8.286),
    "10": (0.1019, 5.2612, 3.277),
    "8": (0.1285, 8.3656, 2.061),
    "6": (0.1620, 13.302, 1.296),
    "2": (0.2576, 33.631, 0.513),
    "2/0": (0.3648, 67.431, 0.256),
}


@pytest.mark.parametrize("gauge", AWG)
def test_awg_table(gauge: str) -> None:
    """W4: diameters to 0.0001 in (ASTM B258), areas and resistances to 0.2 %."""
    diameter, area, resistance = AWG[gauge]
    found = awg(gauge)

    assert found.diameter_mm / 25.4 == pytest.approx(diameter, abs=0.00006)
    assert found.area_mm2 == pytest.approx(area, rel=0.0005)
    assert found.resistance_mohm_per_m == pytest.approx(resistance, rel=0.002)
    assert found.name == gauge


def test_gauge_law() -> None:
    """W1, W2: 36 is 0.0050 in, 4/0 is 0.4600 in; 3 gauges double the area, 6 the diameter, 10 are tenfold."""
    assert awg("36").diameter_mm == pytest.approx(0.127)
    assert awg("4/0").diameter_mm / 25.4 == pytest.approx(0.46)
    assert awg("10").area_mm2 / awg("13").area_mm2 == pytest.approx(2.0050, abs=0.0001)
    assert awg("10").diameter_mm / awg("16").diameter_mm == pytest.approx(2.0050, abs=0.0001)
    assert awg("10").area_mm2 / awg("20").area_mm2 == pytest.approx(10.164, abs=0.001)
    for bad in ("41", "5/0", "x", "0.5", ""):
        with pytest.raises(CalcError):
            awg(bad)


def test_temperature() -> None:
    """W5: 40, 60, 80, 105 °C: 1.0786, 1.1572, 1.2358, 1.3341."""
    assert [resistance_at(1, t) for t in (40, 60, 80, 105)] == pytest.approx(
        [1.0786, 1.1572, 1.2358, 1.33405], abs=1e-4
    )


@pytest.mark.parametrize(
    ("area", "pure", "percent", "class_5"),
    [(2.5, 1.032, 8.6, 1.194), (4, 0.645, 5.4, 0.741), (6, 0.430, 3.6, 0.494)],
)
def test_fan_drop(area: float, pure: float, percent: float, class_5: float) -> None:
    """W13: fan 22 A, 6.8 m loop: pure copper and IEC 60228 class 5 maxima."""
    found = voltage_drop(22, 6.8, area)

    assert (found.drop_v, found.percent) == (pytest.approx(pure, abs=0.001), pytest.approx(percent, abs=0.05))
    assert voltage_drop(22, 6.8, area, table="class 5").drop_v == pytest.approx(class_5, abs=0.001)


def test_drop_traps() -> None:
    """W12: 10 A over 21 ft at 10 % of 12 V suits 16 AWG (K = 10.75, about 29 °C); W17: 14 AWG at
    15 A sheds 1.86 W/m.
    """
    assert voltage_drop(10, 21 * 0.3048, awg("16").area_mm2, temperature_deg_c=29).percent < 10
    assert voltage_drop(10, 21 * 0.3048, awg("18").area_mm2, temperature_deg_c=29).percent > 10
    assert voltage_drop(15, 1, awg("14").area_mm2).heat_w_per_m == pytest.approx(1.86, abs=0.005)
    with pytest.raises(CalcError, match="class 5"):
        voltage_drop(10, 1, 3, table="class 5")


def test_extending_and_splicing() -> None:
    """W20, W9, W19: 1.2 m of 16 + 0.9 m of 14 is 23.27 mΩ (0.163 V at 7 A); strands and splices add areas."""
    found = extended_resistance(1.2, awg("16").area_mm2, 0.9, awg("14").area_mm2)

    assert found == pytest.approx(23.27, abs=0.01)
    assert found * 7 / 1000 == pytest.approx(0.163, abs=0.0005)
    with pytest.raises(CalcError, match="smaller than the donor tail"):
        extended_resistance(1, 2.5, 1, 1.5)
    assert [strand_area(n, d) for n, d in ((32, 0.2), (24, 0.2), (44, 0.3))] == pytest.approx(
        [1.005, 0.754, 3.110], abs=0.0005
    )
    assert splice_area([0.75, 1.5], [2.5]) == 4.75
    with pytest.raises(CalcError, match="holds no wire"):
        splice_area([1], [])


def test_gauge_swaps() -> None:
    """W8, W10: 1.5 mm² is replaced by 14, not 16; SAE 12 holds 89 % of AWG 12 (5833 against 6530 cmil)."""
    assert {a: gauge_for(a).name for a in (0.35, 0.5, 0.75, 1.0, 1.5, 2.5, 4, 6, 10, 16)} == {
        0.35: "20",
        0.5: "20",
        0.75: "18",
        1.0: "16",
        1.5: "14",
        2.5: "12",
        4: "10",
        6: "8",
        10: "6",
        16: "4",
    }
    twelve = which_gauge(12)
    assert twelve.sae_mm2 is not None
    assert twelve.sae_mm2 / twelve.awg_mm2 == pytest.approx(0.893, abs=0.001)
    assert which_gauge(10).sae_mm2 is None


@pytest.mark.parametrize(("load", "fuse"), [("6.4", 10), ("9", 15), ("12", 15), ("22", 30)])
def test_fuses(load: str, fuse: float) -> None:
    """W15: load/0.8, next size up; the fuse protects the wire, else a larger wire."""
    assert fuse_for(F(load), F(100)).fuse_a == fuse
    assert fuse_for(F(load), F(fuse)).protects_wire
    assert not fuse_for(F(load), F(fuse) - 1).protects_wire


def test_belt_marks() -> None:
    """B1, B2, B3: markings, inch codes, width and outside length."""
    assert [belt_from_inches(n, t) for n, t in ((5, 345), (4, 330), (6, 415))] == [
        "5PK876",
        "4PK838",
        "6PK1054",
    ]
    assert belt_from_inches(6, 472) == "6PK1199"
    mark = belt_mark("6PK1200")
    assert (mark.ribs, mark.effective_mm, mark.outside_mm) == (6, 1200, 1214)
    assert mark.width_mm == pytest.approx(21.36)
    for bad in ("1200", "6PJ1200", "2PK1200", "6PK12"):
        with pytest.raises(CalcError):
            belt_mark(bad)


def test_two_pulleys() -> None:
    """B5: R 21, r 6, C 30: 152.492, straights 25.981, wraps 240 / 120 (closed form of L)."""
    path = belt_path([Pulley("a", 0, 0, 21), Pulley("b", 30, 0, 6)])

    assert path.length_mm == pytest.approx(152.492, abs=0.001)
    assert [w.straight_mm for w in path.wraps] == pytest.approx([25.981] * 2, abs=0.001)
    assert [w.wrap_deg for w in path.wraps] == pytest.approx([240, 120])


def test_three_pulleys() -> None:
    """B6: 951.805; straights 210.000, 173.133, 224.221; wraps 147.67, 91.18, 121.15 (convex hull outside)."""
    path = belt_path([Pulley("a", 0, 0, 70), Pulley("b", 210, 40, 30), Pulley("c", 120, 190, 55)])

    assert path.length_mm == pytest.approx(951.805, abs=0.001)
    assert [w.straight_mm for w in path.wraps] == pytest.approx([210.000, 173.133, 224.221], abs=0.001)
    assert [w.wrap_deg for w in path.wraps] == pytest.approx([147.67, 91.18, 121.15], abs=0.005)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(min_value=20, max_value=70), min_size=3, max_size=5))
def test_belt_is_the_hull(radii: list[int]) -> None:
    """B6: without back idlers the belt is the convex hull of the pulleys' circles (scipy), to 0.1 %."""
    n = len(radii)
    places = [(300 * math.cos(2 * math.pi * i / n), 300 * math.sin(2 * math.pi * i / n)) for i in range(n)]
    path = belt_path(
        [Pulley(str(i), x, y, r) for i, ((x, y), r) in enumerate(zip(places, radii, strict=True))]
    )
    points = [
        (x + r * math.cos(a * math.pi / 360), y + r * math.sin(a * math.pi / 360))
        for (x, y), r in zip(places, radii, strict=True)
        for a in range(720)
    ]

    assert path.length_mm == pytest.approx(
        ConvexHull(points).area, rel=0.001
    )  # in a plane scipy's area is the perimeter


def test_demo_belt_with_a_back_idler() -> None:
    """B7: five pulleys with an idler on the back, worked outside as a path of 1322.5 mm; a small
    wrap is warned of.
    """
    path = belt_path(
        [
            Pulley("crank", 0, 0, 72.5),
            Pulley("alternator", 196, 28, 38),
            Pulley("steering pump", 205, 205, 27.5),
            Pulley("idler", 100, 150, 33, back=True, driven=False),
            Pulley("water pump", -12, 232, 61),
        ]
    )

    assert path.length_mm == pytest.approx(1322.5, abs=0.5)
    with pytest.raises(CalcError, match="cross itself"):
        belt_path([Pulley("a", 0, 0, 70), Pulley("c", 120, 190, 55), Pulley("b", 210, 40, 30)])
    with pytest.raises(CalcError, match="overlap"):
        belt_path([Pulley("a", 0, 0, 70), Pulley("b", 80, 0, 30)])


def test_deflection() -> None:
    """B8: centres 24, 12 and 4 in pulleys: span 23.66 in, 0.370 in (a calculator's page); 100 in
    gives 1 9/16.
    """
    assert belt_deflection(24 * 25.4, 12 * 25.4, 4 * 25.4) / 25.4 == pytest.approx(0.370, abs=0.0005)
    assert belt_deflection(2540, 100, 100) / 25.4 == pytest.approx(1.5625)


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
    if greedy is not None:
        assert plan.longest_first == greedy


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


def test_cutting_refused() -> None:
    """R32: a piece longer than the stock, and an empty list."""
    with pytest.raises(CalcError, match="longer than the stock"):
        cut_plan(F(100), pieces(("101", 1)))
    with pytest.raises(CalcError):
        cut_plan(F(100), [])
