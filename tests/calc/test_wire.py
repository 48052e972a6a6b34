"""Wire against gauge tables, IEC cables and worked cases."""

import itertools
from fractions import Fraction as F

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.wire import (
    awg,
    drop_allowed,
    extended_resistance,
    fuse_for,
    gauge_for,
    loom_current,
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
    "1": (0.2893, 42.41, 0.4065),
    "1/0": (0.3249, 53.49, 0.3224),
    "2/0": (0.3648, 67.431, 0.256),
    "3/0": (0.4096, 85.01, 0.2028),
    "4/0": (0.4600, 107.2, 0.1608),
    "40": (0.00314, 0.00501, 3441.0),
}


@pytest.mark.parametrize("gauge", AWG)
def test_awg_table(gauge: str) -> None:
    """W4: diameters to 0.2 % (ASTM B258), areas and resistances to 0.2 %."""
    diameter, area, resistance = AWG[gauge]
    found = awg(gauge)

    assert found.diameter_mm / 25.4 == pytest.approx(diameter, rel=0.002)
    assert found.area_mm2 == pytest.approx(area, rel=0.0005)
    assert found.resistance_mohm_per_m == pytest.approx(resistance, rel=0.002)
    assert found.name == gauge


def test_gauge_law() -> None:
    """W1, W2: 36 is 0.0050 in, 4/0 is 0.4600 in; one gauge is 1.26098 in area and 1.12293 in diameter, 3 gauges double the
    area, 6 the diameter, 10 are tenfold.
    """
    assert awg("17").area_mm2 / awg("18").area_mm2 == pytest.approx(1.26098, abs=0.00001)
    assert awg("17").diameter_mm / awg("18").diameter_mm == pytest.approx(1.12293, abs=0.00001)
    assert awg("36").diameter_mm == pytest.approx(0.127)
    assert awg("4/0").diameter_mm / 25.4 == pytest.approx(0.46)
    assert awg("10").area_mm2 / awg("13").area_mm2 == pytest.approx(2.0050, abs=0.0001)
    assert awg("10").diameter_mm / awg("16").diameter_mm == pytest.approx(2.0050, abs=0.0001)
    assert awg("10").area_mm2 / awg("20").area_mm2 == pytest.approx(10.164, abs=0.001)
    for bad in ("41", "5/0", "x", "0.5", ""):
        with pytest.raises(CalcError):
            awg(bad)


def test_nought_is_one_nought() -> None:
    """0 and 1/0 are one gauge."""
    assert awg("0") == awg("1/0")


# IEC 60228 table 3, class 5, plain copper: greatest resistance at 20 °C in Ω/km, which is mΩ/m.
CLASS_5 = {
    0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780, 35: 0.554,
}  # fmt: skip


def test_class_5_cables() -> None:
    """Every size of the table over a loop of 2 m; 10 A in 2.5 mm² shed 100 × 0.00798 = 0.798 W/m."""
    found = {area: voltage_drop(10, 2, area, table="class 5") for area in CLASS_5}

    assert {area: drop.resistance_mohm for area, drop in found.items()} == pytest.approx(
        {area: 2 * resistance for area, resistance in CLASS_5.items()}
    )
    assert found[2.5].heat_w_per_m == pytest.approx(0.798)


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


def test_drop_allowed() -> None:
    """W14: 3 % for circuits that matter for safety, 10 % for the rest: ABYC E-11 as two marine dealers give it. The fan of
    W13 at 4 mm² loses 5.4 %, too much for the first.
    """
    assert (drop_allowed("safety"), drop_allowed("other")) == (3, 10)
    assert drop_allowed("safety") < voltage_drop(22, 6.8, 4).percent < drop_allowed("other")
    with pytest.raises(CalcError, match="circuit"):
        drop_allowed("comfort")  # type: ignore[arg-type]


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
    assert extended_resistance(1, 2.5, 1, 2.5) == pytest.approx(2 * 1000 / 58 / 2.5)
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
    sizes = [
        "24",
        "22",
        "20",
        "18",
        "16",
        "14",
        "12",
        "10",
        "8",
        "6",
        "4",
        "2",
        "1",
        "1/0",
        "2/0",
        "3/0",
        "4/0",
    ]
    for size, larger in itertools.pairwise(sizes):
        assert gauge_for(awg(size).area_mm2).name == size
        assert gauge_for(min(awg(size).area_mm2 * 1.001, 100)).name == larger
    twelve = which_gauge(12)
    assert twelve.sae_mm2 == pytest.approx(5833 * 5.06707e-4, rel=1e-5)  # a circular mil is 5.06707e-4 mm²
    assert twelve.sae_mm2 is not None
    assert twelve.sae_mm2 / twelve.awg_mm2 == pytest.approx(0.893, abs=0.001)
    assert which_gauge(10).sae_mm2 is None


@pytest.mark.parametrize(
    ("area_mm2", "chart_a"), [(0.75, 11), (1, 16), (1.5, 22), (2.5, 32), (4, 41), (6, 55)]
)
def test_a_wire_in_a_taped_loom_bears_half_its_chart_figure(area_mm2: float, chart_a: float) -> None:
    """W17: the chassis chart (20 AWG 11 A, 18 16, 16 22, 14 32, 12 41, 10 55) at the gauge that is no larger, halved."""
    assert loom_current(area_mm2) == chart_a / 2
    for beyond in (0.5, 8.5):
        with pytest.raises(CalcError):
            loom_current(beyond)


def test_the_chart_steps_at_each_gauge() -> None:
    """W17: at a gauge's own area its figure counts, a little below it the next smaller one's (20 AWG is 0.5176 mm²)."""
    chart = {18: 16, 16: 22, 14: 32, 12: 41, 10: 55}
    for gauge, chart_a in chart.items():
        area = awg(str(gauge)).area_mm2
        assert loom_current(area) == chart_a / 2
        assert loom_current(area * 0.999) == chart.get(gauge + 2, 11) / 2
    assert loom_current(0.518) == 11 / 2


@pytest.mark.parametrize(("load", "fuse"), [("6.4", 10), ("9", 15), ("12", 15), ("22", 30)])
def test_fuses(load: str, fuse: float) -> None:
    """W15: load/0.8, next size up; the fuse protects the wire, else a larger wire."""
    assert fuse_for(F(load), F(100)).fuse_a == fuse
    assert fuse_for(F(load), F(fuse)).protects_wire
    assert not fuse_for(F(load), F(fuse) - 1).protects_wire


def test_every_fuse() -> None:
    """ISO 8820-3 sizes as they are sold: each takes 0.8 of itself, a little more takes the next."""
    sizes = [F(size) for size in ("1", "2", "3", "5", "7.5", "10", "15", "20", "25", "30", "40")]
    for size, larger in itertools.pairwise(sizes):
        assert fuse_for(size * F("0.8"), F(100)).fuse_a == size
        assert fuse_for(size * F("0.801"), F(100)).fuse_a == larger
    assert fuse_for(F(32), F(100)).fuse_a == 40
