"""Wire, coolant, stock and belts held against other libraries and against other places where the trade prints them."""

import itertools
import math
from fractions import Fraction as F
from typing import Literal

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.optimize import linprog

from yokemate.calc.cutting import Piece, cut_plan
from yokemate.calc.fluids import coolant_freeze, topped_up
from yokemate.calc.follow_ups import distance_due
from yokemate.calc.wire import (
    awg,
    extended_resistance,
    gauge_for,
    loom_current,
    resistance_at,
    splice_area,
    voltage_drop,
)

MIL = 0.0254  # mm


def freezes(fluid: str, part: float) -> float:
    return float(PropsSI("T_freeze", "T", 300, "P", 101325, f"INCOMP::{fluid}[{part}]")) - 273.15


# W4, from a wire table: kcmil by gauge.
KCMIL = {
    "24": 0.404, "22": 0.642, "18": 1.624, "16": 2.583, "14": 4.107, "10": 10.383, "8": 16.510, "6": 26.251,
    "2": 66.371, "2/0": 133.08,
}  # fmt: skip


@pytest.mark.parametrize("gauge", KCMIL)
def test_circular_mils(gauge: str) -> None:
    """W4: thousands of circular mils, the square of the diameter in mils, to 0.1 %."""
    assert (awg(gauge).diameter_mm / MIL) ** 2 / 1000 == pytest.approx(KCMIL[gauge], rel=0.001)


@pytest.mark.parametrize(
    ("area", "gauge"),
    [(0.35, 21.7), (0.5, 20.2), (0.75, 18.4), (1.0, 17.2), (1.5, 15.4), (2.5, 13.2), (4, 11.2), (6, 9.4), (10, 7.2), (16, 5.2)],
)  # fmt: skip
def test_swaps_never_go_to_a_smaller_area(area: float, gauge: float) -> None:
    """W8: the gauge law turned round gives a gauge between two: the even one taken is at or below it, never two below."""
    exact = 36 - 39 * math.log(math.sqrt(area * 4 / math.pi) / 0.127) / math.log(92)
    taken = int(gauge_for(area).name)

    assert exact == pytest.approx(gauge, abs=0.06)
    assert exact - 2 < taken <= exact


def test_the_inch_form_s_constant() -> None:
    """W11: CM = K·I·L/E: pure copper at 20 °C is K 10.371; 10.75, as a boat dealer prints it, is copper at about 29 °C."""

    def k(temperature_deg_c: float) -> float:
        drop = voltage_drop(10, 21 * 0.3048, 1, temperature_deg_c=temperature_deg_c).drop_v
        return 4 / math.pi / MIL**2 * drop / (10 * 21)

    assert k(20) == pytest.approx(10.371, abs=0.001)
    assert k(29) == pytest.approx(10.75, abs=0.02)
    # W12: 10 A, 21 ft, 1.2 V: 1881 circular mils; 16 AWG has 2583, 18 has 1624.
    assert pytest.approx(1881, abs=0.5) == 10.75 * 10 * 21 / 1.2
    assert (awg("18").diameter_mm / MIL) ** 2 < 1881 < (awg("16").diameter_mm / MIL) ** 2


def test_cable_tables_with_another_coefficient() -> None:
    """W5's trap: IEC 60228's correction at 60 °C is 0.862 (0.004 per degree); ours is within 0.3 % of it."""
    assert 1 / resistance_at(1, 60) == pytest.approx(0.862, rel=0.003)


def test_half_the_chassis_figure_is_about_the_house_cap() -> None:
    """W17: caps of an older note: 14 AWG 15 A, 12 AWG 20 A, 10 AWG 25 or 30 A; half of the chassis chart is within 7 %."""
    assert loom_current(awg("14").area_mm2) == pytest.approx(15, rel=0.07)
    assert loom_current(awg("12").area_mm2) == pytest.approx(20, rel=0.07)
    assert 25 <= loom_current(awg("10").area_mm2) <= 30


def test_equal_wires_in_a_splice() -> None:
    """W19: two of 18 AWG are one of 15, two of 14 are one of 11: three gauges up is twice the area (to 0.3 %)."""
    for single, together in (("18", "15"), ("14", "11")):
        area = awg(single).area_mm2
        assert splice_area([area], [area]) == pytest.approx(awg(together).area_mm2, rel=0.003)


def test_a_tail_and_a_piece_are_two_wires_in_a_row() -> None:
    """W20: the drop over both is the sum of their own drops."""
    tail, added = awg("16").area_mm2, awg("14").area_mm2
    drops = voltage_drop(7, 1.2, tail).drop_v + voltage_drop(7, 0.9, added).drop_v

    assert extended_resistance(1.2, tail, 0.9, added) * 7 / 1000 == pytest.approx(drops)


@pytest.mark.parametrize(
    ("glycol", "fluid", "low", "high"), [("ethylene", "AEG", 20, 60), ("propylene", "APG", 30, 50)]
)
def test_coolant_between_the_rows(
    glycol: Literal["ethylene", "propylene"], fluid: str, low: int, high: int
) -> None:
    """F1: at every half percent by volume within 0.25 °C of CoolProp, so that a mix is never promised to bear much more."""
    for halves in range(2 * low, 2 * high + 1):
        assert coolant_freeze(halves / 2, glycol) == pytest.approx(freezes(fluid, halves / 200), abs=0.25)


@pytest.mark.parametrize(("percent", "by_mass"), [(30, -14.6), (40, -23.8), (50, -36.0), (60, -51.2)])
def test_the_table_is_by_volume(percent: float, by_mass: float) -> None:
    """F1's trap: the same digits by mass (CoolProp's MEG) protect less, for glycol is heavier than water."""
    assert freezes("MEG", percent / 100) == pytest.approx(by_mass, abs=0.1)
    assert coolant_freeze(percent) < by_mass - 0.5


@pytest.mark.parametrize(("percent", "printed"), [(40, -24), (50, -37), (60, -52)])
def test_an_equipment_maker_s_coolant(percent: float, printed: float) -> None:
    """F1: a maker's manual prints -24, -37, -52 °C for 40, 50, 60 %."""
    assert coolant_freeze(percent) == pytest.approx(printed, abs=1)


def test_water_by_the_litre() -> None:
    """F2: topping up in steps (drain 0.3, add 0.3 of water, mix) three times leaves more than one such step of 0.9 at once."""
    percent = 50.0
    for _ in range(3):
        percent = topped_up(5.8, percent, 0.3)

    assert percent == pytest.approx(50 * (1 - 0.3 / 5.8) ** 3)
    assert percent > topped_up(5.8, 50, 0.9)


def test_wheel_nuts_in_miles_and_kilometres() -> None:
    """F6: 50 to 100 miles are 80 to 161 km; the same digits in kilometres come due first."""
    for miles, km in ((50, 80), (100, 161)):
        assert float(distance_due(F(0), F(0), F(miles), "mile").left_km) == pytest.approx(km, abs=0.5)
        assert distance_due(F(0), F(miles), F(miles), "km").due
        assert not distance_due(F(0), F(miles), F(miles), "mile").due


def test_the_bound_of_the_textbook_case_by_linear_programming() -> None:
    """K2: the relaxed optimum over all maximal patterns is 452.25 (scipy's linprog), so that 453 can't be bettered."""
    lengths, demand = (45, 36, 31, 14), (97, 610, 395, 211)
    fits = [range(100 // length + 1) for length in lengths]
    patterns = [
        way
        for way in itertools.product(*fits)
        if 100 - min(lengths) < sum(n * length for n, length in zip(way, lengths, strict=True)) <= 100
    ]
    relaxed = linprog(np.ones(len(patterns)), A_ub=-np.array(patterns).T, b_ub=[-n for n in demand])
    plan = cut_plan(
        F(100), [Piece(F(45), 97), Piece(F(36), 500), Piece(F(36), 110), Piece(F(31), 395), Piece(F(14), 211)]
    )

    assert relaxed.fun == pytest.approx(452.25)
    assert plan.bars == math.ceil(relaxed.fun)
    assert plan.bound <= relaxed.fun
