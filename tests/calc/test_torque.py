"""Torque and preload against published worked values."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yokemate.calc.errors import CalcError
from yokemate.calc.threads import bolt_strength
from yokemate.calc.torque import (
    Condition,
    level,
    lubrication_change,
    nut_factor,
    plausibility,
    read_in_each_unit,
    scatter,
    short_preload,
    short_torque,
    torque_for_preload,
)


@pytest.mark.parametrize(
    ("k", "expected"), [(0.30, 72.7), (0.25, 60.6), (0.20, 48.5), (0.15, 36.3), (0.10, 24.2)]
)
def test_short_form_published(k: float, expected: float) -> None:
    """K11: F 1275 lbf on 0.190 in gives 72.7 .. 24.2 lbf·in, a catalogue's table."""
    torque = short_torque(k, 0.190 * 25.4, 1275 * 4.4482216153 / 1000)

    assert torque / 0.11298482903 == pytest.approx(expected, abs=0.1)


def test_lubrication_ratio() -> None:
    """K12, K13: same preload at K 0.15 / 0.13 / 0.12 needs 0.75 / 0.65 / 0.60 of the torque; same
    torque makes 1.333 / 1.538.
    """
    assert [lubrication_change(F(100), F("0.2"), F(k)) for k in ("0.15", "0.13", "0.12")] == [75, 65, 60]
    dry = short_preload(50, 0.20, 10)
    assert [short_preload(50, k, 10) / dry for k in (0.15, 0.13)] == pytest.approx([1.333, 1.538], abs=0.001)


def test_scatter() -> None:
    """K14: a tightening factor of 1.4 / 1.6 is ± 16.7 / 23.1 % (a maker's sheet prints 17 to 23 %
    for torque wrenches).
    """
    assert [scatter(1.4), scatter(1.6)] == pytest.approx([16.7, 23.1], abs=0.05)
    assert scatter(1) == 0


def test_published_75_percent_of_proof() -> None:
    """F7: M8, M10, M12 8.8 dry at 75 % proof; two service manuals print 26, 52, 90 N·m (to 3 %)."""
    assert [torque_for_preload(m, "8.8") for m in ("M8", "M10", "M12")] == pytest.approx(
        [26, 52, 90], rel=0.03
    )


# Worked outside from the ISO 898-1 table areas: % of proof load at K 0.20, 0.15, 0.13.
@pytest.mark.parametrize(
    ("name", "lbf_ft", "cls", "percents"),
    [
        pytest.param("M10", 37, "8.8", (74.6, 99.4, 114.7), id="Z1"),
        pytest.param("M10", 37, "10.9", (52.1, 69.5, 80.2), id="Z2"),
        pytest.param("M14", 100, "8.8", (72.6, 96.8, 111.7), id="Z3"),
        pytest.param("M14", 100, "10.9", (50.7, 67.6, 78.0), id="Z4"),
        pytest.param("M12", 74, "8.8", (85.5, 114.0, 131.5), id="Z5"),
        pytest.param("M12", 74, "10.9", (59.7, 79.7, 91.9), id="Z6"),
    ],
)
def test_trade_pairs(name: str, lbf_ft: float, cls: str, percents: tuple[float, ...]) -> None:
    """Three pairs of the trade held against proof load, dry and greased, to one point."""
    torque = lbf_ft * 1.3558179483
    dry = plausibility(name, cls, torque, "dry").percent
    oiled = plausibility(name, cls, torque, "oiled").percent

    assert (dry, oiled, dry * 0.20 / 0.13) == pytest.approx(percents, abs=1)


def test_levels() -> None:
    """At most 75 % ok, to 90 warn, to 100 strong warn, above blocked."""
    assert [level(p) for p in (0, 75, 75.1, 90, 90.1, 100, 100.1)] == [
        "ok",
        "ok",
        "warn",
        "warn",
        "strong_warn",
        "strong_warn",
        "block",
    ]
    found = plausibility("M12", "8.8", 100.33, "dry")
    assert (found.level, found.level_worst) == ("warn", "strong_warn")
    assert "Above 75 %" in found.sentence
    assert found.preload_low_kn < found.preload_kn < found.preload_high_kn
    assert found.percent_low < found.percent < found.percent_high


def test_a_stated_nut_factor_takes_the_usual_one_s_place() -> None:
    """Z1: 50.165 N·m on M10 8.8 at K 0.13 is 114.7 % of proof load; the range still reaches as low as dry threads do."""
    found = plausibility("M10", "8.8", 50.165, "dry", 0.13)
    assert found.percent == pytest.approx(114.7, abs=1)
    assert (found.level, found.percent_high) == ("block", found.percent)
    assert found.percent_low == pytest.approx(74.6 * 0.20 / 0.27, abs=1)


@pytest.mark.parametrize(
    ("name", "condition", "percent", "flagged"),
    [
        ("M8", "galvanised_dry", 47.10, True),  # 20/(0.25·8) = 10 kN of 36.609 mm² · 580 MPa = 21.233 kN
        ("M10", "galvanised_dry", 23.79, True),  # 8 of 57.99 · 0.58 = 33.634
        ("M10x1.25", "galvanised_dry", 22.54, False),  # 8 of 61.20 · 0.58 = 35.496
        ("M12", "galvanised_dry", 13.64, False),  # 6.667 of 84.267 · 0.58 = 48.875
        ("M10", "zinc_dry", 29.73, False),  # 10 of 33.634
    ],
)
def test_galvanised_m8_and_m10_bear_less(
    name: str, condition: Condition, percent: float, flagged: bool
) -> None:
    """PL8, PL10: hot-dip galvanised (6az) coarse M8 and M10 have lower loads by ISO 10684 Annex A (two suppliers' copies of
    the proof load table say so); by how much was not verified, so the figures stay and the sentence says it.
    """
    found = plausibility(name, "8.8", 20, condition)
    assert ("bears less than that (ISO 10684 Annex A)" in found.sentence) is flagged
    assert found.sentence.startswith("At most 75 % of proof load")
    assert found.percent == pytest.approx(percent, abs=0.01)


def test_three_preloads_by_hand() -> None:
    """F = T/(K·d): 50 N·m on M10 dry is 50/2.7 = 18.519, 50/2 = 25, 50/1.8 = 27.778 kN, in percent of 33.63 kN (57.99 mm² × 580)."""
    found = plausibility("M10", "8.8", 50, "dry")

    assert (found.preload_low_kn, found.preload_kn, found.preload_high_kn) == pytest.approx(
        (18.5185, 25, 27.7778), rel=1e-5
    )
    assert (found.percent_low, found.percent, found.percent_high) == pytest.approx(
        (55.06, 74.33, 82.59), rel=5e-4
    )
    (read, *_) = read_in_each_unit(50, "M10", "8.8")
    assert read.percent == pytest.approx(74.33, rel=5e-4)


def test_a_figure_read_in_units_that_no_bolt_bears() -> None:
    """20 000 N·m is read; 20 000 lbf·ft (27 116 N·m) and kgf·m (196 133) are left out, not shown with a share of theirs.
    20 000/(0.2·10) = 10 000 kN on M10 8.8, As 57.99 mm² × 580 MPa = 33.63 kN: 29 732 %.
    """
    read = {one.unit: one for one in read_in_each_unit(20000, "M10", "8.8")}
    assert read["n_m"].percent == pytest.approx(29732, rel=1e-3)
    assert set(read) == {"n_m", "lbf_in", "ozf_in", "kgf_cm"}


def test_a_figure_read_at_the_nut_factor_its_source_states() -> None:
    """K 0.15 instead of 0.20: 4/3 of the share (T = K·d·F)."""
    usual, stated = (read_in_each_unit(50, "M10", "8.8", "dry", k)[0].percent for k in (None, 0.15))
    assert stated / usual == pytest.approx(4 / 3)


def test_worst_level_at_the_least_nut_factor() -> None:
    """At K 0.18 instead of 0.20, 0.9 × 99.5 % of proof load becomes 99.5 %: strong warn, not yet block."""
    proof = bolt_strength("M10", "8.8").proof_kn or 0
    found = plausibility("M10", "8.8", 0.995 * proof * 0.18 * 10)

    assert (found.level, found.level_worst) == ("warn", "strong_warn")


def test_likely_is_from_40_to_90_percent() -> None:
    """Common practice: both ends count. F = p·Sp·As, T = 0.2 · 8 mm · F on M8 8.8."""
    proof = bolt_strength("M8", "8.8").proof_kn or 0
    for percent, likely in ((39.9, False), (40, True), (40.5, True), (90, True), (90.5, False)):
        read = read_in_each_unit(percent / 100 * proof * (0.2 * 8), "M8", "8.8")[0]
        assert (read.percent, read.likely) == (pytest.approx(percent), likely)


def test_a_bare_74_on_m12() -> None:
    """74 on M12 10.9 makes sense as N·m and as lbf·ft, so it must be asked about; as lbf·in it does not."""
    readings = {r.unit: r for r in read_in_each_unit(74, "M12", "10.9")}

    assert readings["n_m"].likely
    assert readings["lbf_ft"].likely
    assert readings["lbf_ft"].torque_n_m == pytest.approx(100.33, abs=0.01)
    assert not readings["lbf_in"].likely
    assert readings["kgf_m"].level == "block"
    # 40 N·m on M10 8.8 dry is 59 %; read as lbf·ft it is 81 %.
    assert [r.level for r in read_in_each_unit(40, "M10", "8.8")][:2] == ["ok", "warn"]


@pytest.mark.parametrize(
    ("condition", "low", "high"),
    [
        ("dry", 0.18, 0.27),
        ("oiled", 0.10, 0.26),
        ("zinc_dry", 0.17, 0.35),
        ("cadmium", 0.15, 0.19),
        ("waxed", 0.10, 0.10),
        ("moly", 0.11, 0.11),
        ("galvanised_dry", 0.25, 0.25),
        ("stainless_dry", 0.30, 0.50),
    ],
)
def test_nut_factors(condition: Condition, low: float, high: float) -> None:
    """K1 to K9: ranges of published nut factor tables."""
    k = nut_factor(condition)

    assert (k.low, k.high) == (low, high)
    assert k.low <= k.usual <= k.high


def test_refused() -> None:
    """R32: stainless has no proof load; an unknown condition and a nut factor that is a friction
    coefficient are refused.
    """
    with pytest.raises(CalcError, match="no proof load"):
        plausibility("M10", "A2-70", 30)
    with pytest.raises(CalcError, match="condition"):
        nut_factor("greasy")  # type: ignore[arg-type]
    with pytest.raises(CalcError, match="nut_factor"):
        short_torque(0.02, 10, 10)


@given(
    st.floats(min_value=0.05, max_value=0.6),
    st.floats(min_value=1, max_value=100),
    st.floats(min_value=0.1, max_value=2000),
)
def test_short_form_round_trip(k: float, d: float, preload: float) -> None:
    """Torque for a preload makes that preload."""
    torque = short_torque(k, d, preload)
    if torque <= 20000:
        assert short_preload(torque, k, d) == pytest.approx(preload)
