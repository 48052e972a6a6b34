"""Inches, drills, hose, fluids, sockets, follow-ups against tables and worked cases of the trade."""

from fractions import Fraction as F

import pytest
from CoolProp.CoolProp import PropsSI

from yokemate.calc.drills import DRILLS, drill_size, gap_gauge, nearest_drill
from yokemate.calc.errors import CalcError
from yokemate.calc.fluids import bleed_order, brake_fluid, coolant_freeze, refill_neat, topped_up
from yokemate.calc.follow_ups import cure_lag, distance_due, heat_cycles_left
from yokemate.calc.hose import Clamp, clamp_fit, clamp_largest, cut_length, fitted_diameter, push_depth
from yokemate.calc.inches import add_inches, inches_to_mm, mm_to_inches
from yokemate.calc.sockets import socket_sizes, sockets_to_take

IN = F("25.4")


def test_inches() -> None:
    """H12, H8: sums and conversions stay exact; 137 and 250 mm on an inch rule."""
    assert add_inches("5 7/16 + 2 21/32") == "8 3/32"
    assert add_inches("7 3/8 + 1 1/8 + 1 1/8") == "9 5/8"
    assert inches_to_mm("9 5/8") == F("244.475")
    for mm, text, error in ((137, "5 25/64", -0.078), (250, "9 27/32", 0.031)):
        assert mm_to_inches(F(mm)).inches == text
        assert float(mm_to_inches(F(mm)).error_mm) == pytest.approx(error, abs=0.0005)
    for bad in ("1/3", "", "5 + "):
        with pytest.raises(CalcError):
            add_inches(bad)
    with pytest.raises(CalcError, match="denominator"):
        mm_to_inches(F(10), 10)


def test_drill_table() -> None:
    """H13: 170 names, 169 sizes; sample of ASME B94.11M; E is a quarter inch, Q is not, and
    number 7 is not 7 mm.
    """
    sample = {
        "#50": ".070",
        "#40": ".098",
        "#30": ".1285",
        "#25": ".1495",
        "#20": ".161",
        "#10": ".1935",
        "#7": ".201",
        "#1": ".228",
        "F": ".257",
        "I": ".272",
        "Q": ".332",
        "U": ".368",
        "#80": ".0135",
        "A": ".234",
        "Z": ".413",
        "E": ".250",
    }

    assert len(DRILLS) == 170
    assert len(set(DRILLS.values())) == 169
    assert {name: drill_size(name) / IN for name in sample} == {
        name: F(size) for name, size in sample.items()
    }
    assert list(DRILLS.values())[:80] == sorted(list(DRILLS.values())[:80], reverse=True)
    with pytest.raises(CalcError):
        drill_size("#81")


@pytest.mark.parametrize(
    ("name", "mm"),
    [
        ("5.5 mm", "5.5"),
        ("5,5mm", "5.5"),
        ("10 MM", "10"),
        ("10.5 mm", "10.5"),
        ("11 mm", "11"),
        ("25 mm", "25"),
        ("0.3 mm", "0.3"),
        ("1 in", "25.4"),
    ],
)
def test_metric_drills_by_name(name: str, mm: str) -> None:
    """The common series: every 0.1 mm to 10, every 0.5 mm above (common practice)."""
    assert drill_size(name) == F(mm)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("1", "Write #1, 1 mm"),  # #1 is 5.79 mm, neither 1 mm nor 1 in
        ("7", "Write #7, 7 mm"),
        ("5.5", "Write 5.5 mm"),
        ("5.55 mm", "every 0.5 mm to 25"),
        ("10.1 mm", "every 0.5 mm to 25"),
        ("26 mm", "every 0.5 mm to 25"),
    ],
)
def test_what_is_no_drill_says_what_may_be_meant(name: str, says: str) -> None:
    with pytest.raises(CalcError) as refused:
        drill_size(name)
    assert says in refused.value.remedy


def test_the_nearest_metric_drill() -> None:
    """By hand: 8.53 lies 0.03 over 8.5 and 0.098 from R (0.339 in, 8.611); 6.36 lies nearer 1/4 (6.35) than 6.4."""
    assert nearest_drill(F("8.53"), "metric").name == "8.5 mm"
    assert nearest_drill(F("8.53"), "both").error_mm == F("-0.03")
    assert nearest_drill(F("6.36"), "both").name == "1/4"
    assert nearest_drill(F("10.2"), "metric").name == "10 mm"
    found = gap_gauge(F("0.85"), F("1.15"), "metric")
    assert (found.go, found.no_go) == ("0.9 mm", "1.1 mm")


@pytest.mark.parametrize(
    ("mm", "name", "off_in"),
    [
        ("4.0", "#22", -0.0005),
        ("5.5", "7/32", 0.0022),
        ("2.54", "#39", -0.0005),
        ("3.2", "1/8", -0.001),
        ("8.5", "Q", -0.0027),
    ],
)
def test_nearest_drill(mm: str, name: str, off_in: float) -> None:
    """H14: nearest inch drill to a metric hole, and the error in inches."""
    found = nearest_drill(F(mm))

    assert found.name == name
    assert float(found.error_mm / IN) == pytest.approx(off_in, abs=0.00006)


def test_nearest_drill_by_name() -> None:
    """By hand: 7/32 is 5.55625 mm; 0.231 in lies midway between #1 and A, and the smaller is taken; E goes by its fraction."""
    assert nearest_drill(F("5.5")).diameter_mm == F("5.55625")
    assert nearest_drill(F("0.231") * IN).name == "#1"
    assert nearest_drill(F("6.35")).name == "1/4"
    assert nearest_drill(F("0.0630") * IN).name == "1/16"  # midway between it and #52 (0.0635)


def test_two_drills_are_enough_for_a_gap() -> None:
    """Between 0.0464 and 0.0470 in lie #56 (0.0465) and 3/64 (0.046875) alone; limits in the wrong order hold none."""
    found = gap_gauge(F("0.0464") * IN, F("0.0470") * IN)

    assert (found.go, found.no_go) == ("#56", "3/64")
    # 6.34 to 6.36 holds 1/4 and E, which are one size; 8.4 to 8.45 Q alone (0.332 in, 8.4328).
    for low, high in (("1", "1"), ("2", "1"), ("6.34", "6.36"), ("8.4", "8.45")):
        with pytest.raises(CalcError, match="feeler"):
            gap_gauge(F(low), F(high))


@pytest.mark.parametrize(
    ("low", "high", "go", "no_go"),
    [("0.035", "0.045", "#65", "#57"), ("0.060", "0.070", "1/16", "#50"), ("0.150", "0.165", "#24", "#20")],
)
def test_gap_gauge(low: str, high: str, go: str, no_go: str) -> None:
    """H15: drills chosen inward, so no gap outside the limits passes."""
    found = gap_gauge(F(low) * IN, F(high) * IN)

    assert (found.go, found.no_go) == (go, no_go)
    assert F(low) * IN <= found.go_mm < found.no_go_mm <= F(high) * IN
    with pytest.raises(CalcError, match="feeler"):
        gap_gauge(F("1.0"), F("1.001"))


def test_fitted_hose() -> None:
    """H4: rubber keeps its volume: 3/4 in hose on 0.800 is 1.159 in, 5/8 on 0.660 is 0.961, 19/28
    on 20.2 is 28.83 mm.
    """
    assert fitted_diameter(0.75 * 25.4, 1.125 * 25.4, 0.800 * 25.4) / 25.4 == pytest.approx(1.159, abs=0.0005)
    assert fitted_diameter(0.625 * 25.4, 0.9375 * 25.4, 0.660 * 25.4) / 25.4 == pytest.approx(
        0.961, abs=0.0005
    )
    assert fitted_diameter(19, 28, 20.2) == pytest.approx(28.83, abs=0.005)
    for wrong in ((19, 18, 20), (19, 28, 30), (19, 28, 10)):
        with pytest.raises(CalcError):
            fitted_diameter(*wrong)


@pytest.mark.parametrize(
    ("number", "inches"),
    [
        (12, "5/4"),
        (16, "3/2"),
        (20, "7/4"),
        (24, "2"),
        (28, "9/4"),
        (32, "5/2"),
        (36, "11/4"),
        (44, "13/4"),
        (48, "7/2"),
        (6, "7/8"),
        (8, "1"),
    ],
)
def test_clamp_numbers(number: int, inches: str) -> None:
    """H1: worm clamp numbers (SAE J1508 type F); product pages bear out 16 and 28."""
    assert clamp_largest(number) == F(inches) * IN


def test_clamps_that_break_the_rule() -> None:
    """H2: small and odd sizes vary by maker and are refused; a clamp is judged by its own range."""
    for number in (7, 10, 13):
        with pytest.raises(CalcError, match="range on the clamp"):
            clamp_largest(number)
    fits = clamp_fit(
        29.44, [Clamp("16", 21, 38), Clamp("12", 14, 32), Clamp("8", 11, 25), Clamp("40", 52, 76)]
    )
    assert {f.name: f.good for f in fits} == {"12": True, "16": False, "8": False, "40": False}
    assert fits[0].name == "12"
    assert {f.name: f.note for f in fits}["8"] == "does not reach"
    assert {f.name: f.note for f in fits}["40"] == "does not close far enough"
    assert {f.name: f.note for f in fits}["16"] == "long tail: a snag"


def test_hose_at_its_limits() -> None:
    """Common practice: a spigot from 0.9 to 1.3 times the bore, both ends; a wall of nothing is no hose."""
    assert fitted_diameter(20, 28, 18) == pytest.approx((18**2 + 28**2 - 20**2) ** 0.5)
    assert fitted_diameter(20, 28, 26) == pytest.approx((26**2 + 28**2 - 20**2) ** 0.5)
    for inside, outside, spigot in ((20, 28, 17.9), (20, 28, 26.1), (20, 20, 20)):
        with pytest.raises(CalcError):
            fitted_diameter(inside, outside, spigot)


def test_clamp_travel_by_hand() -> None:
    """A clamp of 20 to 40 mm: 50 to 95 % of its travel, 30 to 39 mm, is good; what lies outside says why."""
    notes = {
        19.9: "does not close far enough",
        20: "long tail: a snag",
        29.9: "long tail: a snag",
        30: "",
        39: "",
        39.1: "almost at its end",
        40: "almost at its end",
        40.1: "does not reach",
    }
    found = {fitted: clamp_fit(fitted, [Clamp("any", 20, 40)])[0] for fitted in notes}

    assert {fitted: fit.note for fitted, fit in found.items()} == notes
    assert [fitted for fitted, fit in found.items() if fit.good] == [30, 39]
    assert found[39].travel_percent == pytest.approx(95)
    with pytest.raises(CalcError, match="not above smallest"):
        clamp_fit(30, [Clamp("any", 30, 30)])


def test_the_clamp_nearest_three_quarters_comes_first() -> None:
    """30 mm is 76.5 % of the travel of one and 74 % of the other: the second is nearer to 75."""
    fits = clamp_fit(30, [Clamp("76.5 %", 22.35, 32.35), Clamp("74 %", 22.6, 32.6)])

    assert [fit.name for fit in fits] == ["74 %", "76.5 %"]


def test_cut_length_with_a_tolerance_below() -> None:
    """By hand: 100 + 10 + 10 may be 3 shorter and, unless said otherwise, 5 longer."""
    cut = cut_length(F(100), F(10), F(10), minus_mm=F(3))

    assert (cut.least_mm, cut.cut_mm, cut.most_mm) == (117, 120, 125)


def test_cut_length() -> None:
    """H8, H16: gap 7 3/8 + 2 × 1 1/8 = 9 5/8 in = 244.475 mm; a hose is +5/-0; depth is 1.5 id,
    at least 25 mm.
    """
    cut = cut_length(inches_to_mm("7 3/8"), inches_to_mm("1 1/8"), inches_to_mm("1 1/8"))

    assert (cut.cut_mm, cut.least_mm, cut.most_mm) == (F("244.475"), F("244.475"), F("249.475"))
    assert [push_depth(d) for d in (8, 16, 19)] == [25, 25, 28.5]


@pytest.mark.parametrize("percent", [20, 30, 33, 40, 45, 50, 55, 60])
def test_coolant_is_coolprops(percent: float) -> None:
    """F1: ethylene glycol by volume, against CoolProp's AEG mixture, to 0.5 °C (straight lines
    between rows).
    """
    kelvin = PropsSI("T_freeze", "T", 300, "P", 101325, f"INCOMP::AEG[{percent / 100}]")

    assert coolant_freeze(percent) == pytest.approx(kelvin - 273.15, abs=0.5)


def test_coolant_refused() -> None:
    """R32: above the table protection falls again, so nothing is guessed; propylene's rows are fewer."""
    assert coolant_freeze(40, "propylene") == -21.5
    for percent, glycol in ((61, "ethylene"), (19, "ethylene"), (29, "propylene"), (51, "propylene")):
        with pytest.raises(CalcError, match="percent_by_volume"):
            coolant_freeze(percent, glycol)  # type: ignore[arg-type]


def test_mixes() -> None:
    """F2: 6.4 L from 30 to 50 % takes 1.829 L neat; 0.9 L of water in 5.8 L at 50 % leaves 42.2 %."""
    assert refill_neat(6.4, 30, 50) == pytest.approx(1.829, abs=0.0005)
    assert topped_up(5.8, 50, 0.9) == pytest.approx(42.2, abs=0.05)
    assert refill_neat(6.4, 30, 30) == 0
    with pytest.raises(CalcError, match="weaker"):
        refill_neat(6.4, 50, 30)


def test_brake_fluid() -> None:
    """F3: 49 CFR 571.116 minima; DOT 5 is silicone, 5.1 is glycol."""
    found = {
        f: (brake_fluid(f).dry_deg_c, brake_fluid(f).wet_deg_c)
        for f in ("DOT 3", "DOT 4", "DOT 5", "DOT 5.1")
    }

    assert found == {"DOT 3": (205, 140), "DOT 4": (230, 155), "DOT 5": (260, 180), "DOT 5.1": (260, 180)}
    assert "never mixed with the others" in brake_fluid("DOT 5").note
    assert "Glycol" in brake_fluid("DOT 5.1").note


def test_bleeding() -> None:
    """F4: longest line first (two repair guides); equal lengths keep their order."""
    assert bleed_order([640, 760, 2550, 2860]) == (4, 3, 2, 1)
    assert bleed_order([500, 500, 900]) == (3, 1, 2)
    assert bleed_order([500] * 8) == (1, 2, 3, 4, 5, 6, 7, 8)
    for lengths in ([], [500] * 9):
        with pytest.raises(CalcError, match="one to eight"):
            bleed_order(lengths)


@pytest.mark.parametrize(
    ("size", "flats"),
    [
        ("M6", {8, 10}),
        ("M8", {10, 12, 13}),
        ("M10", {13, 14, 15, 16, 17}),
        ("M12x1.25", {15, 16, 17, 18, 19}),
        ("M14", {18, 19, 21, 22}),
        ("M4", {7}),
        ("M16", {21, 22, 24}),
        ("M20", {27, 30}),
    ],
)
def test_sockets(size: str, flats: set[int]) -> None:
    """X4 to X20: the set of across-flats per thread, from two open data sets (M16's 21 is EN 1662)."""
    assert {int(s.size.split()[0]) for s in socket_sizes(size)} == flats


def test_sockets_in_inches_and_to_take() -> None:
    """Inch hexagons: 1/4 7/16, 5/16 1/2, 3/8 9/16, 1/2 3/4, 5/8 15/16, 3/4 1 1/8; a list is taken
    once each.
    """
    pairs = {
        "1/4-20": "7/16 in",
        "5/16": "1/2 in",
        "3/8": "9/16 in",
        "1/2": "3/4 in",
        "5/8": "15/16 in",
        "3/4": "1 1/8 in",
    }

    assert {k: socket_sizes(k)[0].size for k in pairs} == pairs
    assert [s.size for s in sockets_to_take(["M8", "M6", "3/8"])] == [
        "8 mm",
        "10 mm",
        "12 mm",
        "13 mm",
        "9/16 in",
    ]
    assert [s.size for s in sockets_to_take(["3/4", "7/16", "M24x2", "1/4"])] == [
        "36 mm",
        "7/16 in",
        "5/8 in",
        "11/16 in",
        "1 1/8 in",
    ]
    for name in ("M10x1.25", "M10X1.25", "M10 × 1,25", " M10 "):
        assert socket_sizes(name) == socket_sizes("M10")
    for name in ("M7", "bolt", "10-32", ""):
        with pytest.raises(CalcError, match="thread_size"):
            socket_sizes(name)


def test_follow_ups() -> None:
    """F5, F6: locker 24 h full; wheel nuts after 50 miles are 80.4672 km, not 50; exhaust after
    two heat cycles.
    """
    assert cure_lag("thread_locker").full_h == 24
    assert cure_lag("rtv_sealant").full_h == 24
    assert distance_due(F(100), F(150), F(50), "mile").left_km == F("30.4672")
    assert distance_due(F(100), F(150), F(50), "km").due
    assert not distance_due(F(100), F("149.5"), F(50), "km").due
    assert distance_due(F(100), F("150.5"), F(50), "km").left_km == F("-0.5")
    assert [heat_cycles_left(n) for n in (0, 1, 2, 3)] == [2, 1, 0, 0]
