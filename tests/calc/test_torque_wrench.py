"""The torque wrench: range, marks, window, extension, deviation, check due."""

from datetime import date
from fractions import Fraction as F

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from yokemate.calc.errors import CalcError
from yokemate.calc.scale import scale_fit
from yokemate.calc.torque_wrench import (
    TorqueUnit,
    accepted_window,
    check_due,
    extension_applied,
    extension_ratio,
    extension_setting,
    house_check,
    nearest_mark,
    permitted_deviation,
    usable_range,
)
from yokemate.units import convert_exact

IN = F("25.4")


@pytest.mark.parametrize(
    ("torque", "length", "extension", "angle", "expected", "tol"),
    [
        pytest.param(135, 10 * IN, F("1.5") * IN, 0, 117.39, 0.01, id="W1 R66 maintenance manual p. 20.4"),
        pytest.param(100, 12 * IN, 6 * IN, 0, 66.7, 0.05, id="W2 US Navy air training text 3-8"),
        pytest.param(20, 14 * IN, 3 * IN, 0, 16.47, 0.05, id="W4 motorcycle repair manual"),
        pytest.param(100, F(400), F(80), 0, 83.33, 0.01, id="W6 0"),
        pytest.param(100, F(400), F(80), 45, 87.61, 0.01, id="W6 45"),
        pytest.param(100, F(400), F(80), 90, 100, 0, id="W6 90"),
        pytest.param(100, F(400), F(80), 180, 125, 0, id="W6 180"),
        pytest.param(100, F(400), F(0), 0, 100, 0, id="W7 bar in line with the socket"),
    ],
)
def test_extension_setting(
    torque: int, length: F, extension: F, angle: int, expected: float, tol: float
) -> None:
    """R12: what to set with an adapter, as worked in published manuals."""
    assert float(extension_setting(F(torque), length, extension, F(angle))) == pytest.approx(
        expected, abs=tol
    )


@pytest.mark.parametrize(
    ("setting", "length", "extension", "expected"),
    [
        pytest.param(60, 12 * IN, 2 * IN, 70, id="W3 TM 9-254 p. 91"),
        pytest.param(100, F(500), F(150), 130, id="W5 fastener dealer's torque data, 500 to 650 mm"),
    ],
)
def test_extension_applied(setting: int, length: F, extension: F, expected: int) -> None:
    """R12: what reaches the fastener with an adapter."""
    assert extension_applied(F(setting), length, extension) == expected


@settings(max_examples=40)
@given(
    st.integers(min_value=1, max_value=500),
    st.integers(min_value=200, max_value=900),
    st.integers(min_value=0, max_value=100),
    st.integers(min_value=0, max_value=180),
)
def test_extension_round_trip(torque: int, length: int, extension: int, angle: int) -> None:
    """Setting and applied undo each other; up to a right angle an adapter lowers the setting, beyond it
    raises it.
    """
    setting = extension_setting(F(torque), F(length), F(extension), F(angle))

    assert extension_applied(setting, F(length), F(extension), F(angle)) == torque
    if extension:
        assert (setting < torque) == (angle < 90)
        assert (setting > torque) == (angle > 90)


def test_extension_reaching_back_is_refused() -> None:
    """R32: an adapter that folds back over most of the handle leaves no arm and is refused."""
    with pytest.raises(CalcError, match="reaches back too far"):
        extension_ratio(F(100), F(80), F(180))
    assert extension_ratio(F(100), F(75), F(180)) == 4  # a quarter of the length is left, and is the least


def test_other_angles_are_taken_to_fifteen_digits() -> None:
    """L 400, E 400 at 45°: 1/(1 + √½), √½ = 0.707106781186547524 (any table of square roots)."""
    ratio = extension_ratio(F(400), F(400), F(45))

    assert abs(1 / ratio - 1 - F("0.707106781186547524")) < F(1, 10**15)


def test_range_by_edition() -> None:
    """W9, W11, edition trap: a 10 to 100 tool counts from 20 by the 2003 edition, from 10 by the 2017 one."""
    old, new = usable_range(F(100), F(10)), usable_range(F(100), F(10), "2017")

    assert (old.low, old.high) == (20, 100)
    assert (new.low, new.high) == (10, 100)
    assert "2003" in old.rule
    assert "2017" in new.rule
    assert usable_range(F(100), F(40)).low == 40
    for maximum, lowest in ((F(100), F(100)), (F(100), F(120))):
        with pytest.raises(CalcError, match="lowest_mark"):
            usable_range(maximum, lowest)
    with pytest.raises(CalcError, match="lowest mark above 0"):
        usable_range(F(100), F(0), "2017")


@pytest.mark.parametrize(
    ("target", "step", "mark", "below", "above"),
    [
        ("92", "5", "90", "90", "95"),
        ("93", "5", "95", "90", "95"),
        ("92.5", "5", "90", "90", "95"),
        ("90", "5", "90", "90", "90"),
        ("199", "7", "195", "195", "195"),
        ("21", "2.5", "20", "20", "22.5"),
        ("198", "5", "200", "195", "200"),
        ("20", "5", "20", "20", "20"),
        ("200", "5", "200", "200", "200"),
    ],
)
def test_nearest_mark(target: str, step: str, mark: str, below: str, above: str) -> None:
    """The nearest mark, the lower of two equally near, never one beyond the scale (20 to 200, counted by
    hand).
    """
    near = nearest_mark(F(target), F(step), F(20), F(200))

    assert (near.mark, near.below, near.above) == (F(mark), F(below), F(above))
    assert near.error == F(mark) - F(target)
    assert near.error_percent == pytest.approx(float((F(mark) - F(target)) / F(target)) * 100)


def test_off_the_scale() -> None:
    """R32: a target off the scale is refused."""
    for target in (F(19), F(201)):
        with pytest.raises(CalcError, match="outside the scale"):
            nearest_mark(target, F(5), F(20), F(200))


def test_window_in_another_unit() -> None:
    """R12: 37 lbf·ft ± 2 on a N·m torque wrench: 1 lbf·ft is 1.3558179483314004 N·m exactly; ends rounded
    inward.
    """
    window = accepted_window(F(37), F(2), F(2), "lbf_ft", "n_m")

    assert window.unit == "n_m"
    assert window.target == "50.165264"  # 37 × the factor = 50.16526408826...
    assert window.low == "47.453629"  # 35 × = 47.45362819...
    assert window.high == "52.876899"  # 39 × = 52.87689998...


def test_window_with_drag_and_extension() -> None:
    """F8: 1/4-28 nut 50-70 lbf·in with 7 of drag is set 57-77 (AC 43.13-1B par. 7-40); an adapter
    scales it.
    """
    window = accepted_window(F(60), F(10), F(10), "lbf_in", "lbf_in", drag=F(7))
    with_arm = accepted_window(F(60), F(10), F(10), "lbf_in", "lbf_in", drag=F(7), arm_ratio=F(1, 2))

    assert (window.low, window.high) == ("57.000000", "77.000000")
    assert (with_arm.low, with_arm.high) == ("28.500000", "38.500000")
    with pytest.raises(CalcError, match="reaches down to nothing"):
        accepted_window(F(10), F(10), F(1), "n_m", "n_m")
    with pytest.raises(CalcError, match="from_unit"):
        accepted_window(F(10), F(1), F(1), "mm", "n_m")  # type: ignore[arg-type]


UNITS_OF_TORQUE: tuple[TorqueUnit, ...] = ("n_m", "lbf_ft", "lbf_in", "kgf_m")


@settings(max_examples=80)
@given(
    st.integers(min_value=100, max_value=20000),
    st.integers(min_value=0, max_value=20),
    st.sampled_from(UNITS_OF_TORQUE),
    st.sampled_from(UNITS_OF_TORQUE),
    st.integers(min_value=-3, max_value=3),
)
def test_window_decides_as_the_fractions_do(
    hundredths: int, percent: int, spec_unit: TorqueUnit, wrench_unit: TorqueUnit, off: int
) -> None:
    """R12, R16: a typed reading of up to six decimals is in the window of strings exactly when the exact
    fractions say so; the window is refused only where no such reading is.
    """
    target = F(hundredths, 100)
    slack = target * percent / 100
    edge = convert_exact(target + slack, spec_unit, wrench_unit)
    reading = F(round(edge * 10**6) + off, 10**6)  # close to the upper edge, where it matters

    inside = abs(convert_exact(reading, wrench_unit, spec_unit) - target) <= slack
    try:
        window = accepted_window(target, slack, slack, spec_unit, wrench_unit)
    except CalcError:  # no tolerance, and the figure has more decimals in this unit
        assert slack == 0 and not inside
        return
    assert (F(window.low) <= reading <= F(window.high)) == inside


@pytest.mark.parametrize(("maximum", "percent"), [(10, 6.0), (10.01, 4.0), (200, 4.0), (5, 6.0)])
def test_permitted_deviation(maximum: float, percent: float) -> None:
    """W8: ISO 6789 type II class A as given by a maker: 4 % above 10 N·m, 6 % up to it, by the tool's
    maximum.
    """
    assert permitted_deviation(maximum) == percent


def test_check_due() -> None:
    """W10, R11: 12 months or 5000 cycles (2003 edition as a maker gives it), at once after a drop (AC
    43.13-1B).
    """
    last = date(2026, 3, 10)

    assert check_due(last, date(2027, 3, 10)).fit
    assert check_due(last, date(2027, 3, 10)).days_left == 0
    late = check_due(last, date(2027, 3, 11))
    assert (late.fit, late.days_left, late.due_on) == (False, -1, "2027-03-10")
    assert not check_due(last, last, cycles=5000).fit
    assert check_due(last, last, cycles=4999).fit
    dropped = check_due(last, date(2026, 4, 2), dropped_on=date(2026, 4, 1))
    assert (dropped.fit, dropped.reason) == (False, "it was dropped on 2026-04-01 and not checked since")
    assert check_due(last, date(2026, 4, 2), dropped_on=date(2026, 3, 9)).fit
    assert not check_due(last, date(2026, 4, 2), dropped_on=last).fit
    assert not check_due(last, date(2026, 4, 2), dropped_on=date(2026, 4, 2)).fit
    with pytest.raises(CalcError, match="before the last check"):
        check_due(last, date(2026, 3, 9))


@pytest.mark.parametrize(
    ("last", "months", "due"),
    [
        (date(2024, 2, 29), 12, "2025-02-28"),
        (date(2026, 8, 31), 6, "2027-02-28"),
        (date(2027, 8, 31), 6, "2028-02-29"),
        (date(2026, 12, 31), 6, "2027-06-30"),
        (date(2026, 1, 15), 1, "2026-02-15"),
    ],
)
def test_end_of_month(last: date, months: int, due: str) -> None:
    """An interval in months ends on the same day, or the month's last (calendar, counted by hand)."""
    assert check_due(last, last, months).due_on == due


def test_house_check() -> None:
    """R11: 10.2 kg at 500 mm is 50.0 N·m (F = m·g, g 9.80665); 51 shown is 2 % high, 53 is outside ± 4 %."""
    good, bad = house_check(10.2, 500, 51, 100), house_check(10.2, 500, 53, 100)

    assert good.applied_n_m == pytest.approx(50.0139, abs=1e-4)
    assert good.deviation_percent == pytest.approx(1.972, abs=0.001)
    assert (good.within, bad.within) == (True, False)
    assert not house_check(10.2, 500, 47, 100).within
    assert house_check(1, 100, 1.0198916, 100).within  # 0.980665 N·m and 4 % of it: as much as is permitted


def test_its_own_weight_hangs_on_the_arm_too() -> None:
    """By hand: 10 kg at 500 mm are 49.033 N·m, the torque wrench itself, 1.3 kg balanced 180 mm out, 2.295 more: 51.328. One
    that clicks at 48.9 would pass at 0.3 % low without it, and is 4.7 % low; one that clicks at 51.3 would fail.
    """
    alone, with_own = (house_check(10, 500, 48.9, 100, *own) for own in ((), (1.3, 180)))
    assert (alone.within, with_own.within) == (True, False)
    assert with_own.applied_n_m == pytest.approx(51.328, abs=0.001)
    assert with_own.deviation_percent == pytest.approx(-4.73, abs=0.01)
    right = [house_check(10, 500, 51.3, 100, *own) for own in ((), (1.3, 180))]
    assert [found.within for found in right] == [False, True]
    for own, field in (((1.3, 0), "own_arm_mm"), ((0, 180), "own_kg")):
        with pytest.raises(CalcError) as refused:
            house_check(10, 500, 50, 100, *own)
        assert refused.value.field == field


def test_a_window_that_holds_no_such_reading_is_refused() -> None:
    """100.4 to 100.6 holds no whole number; with one decimal 100.4 to 100.6 stands."""
    with pytest.raises(CalcError, match="no reading with 0 decimals"):
        accepted_window(F("100.5"), F("0.1"), F("0.1"), "n_m", "n_m", places=0)
    found = accepted_window(F("100.5"), F("0.1"), F("0.1"), "n_m", "n_m", places=1)
    assert (found.low, found.high) == ("100.4", "100.6")
    exact = accepted_window(F(100), F(0), F(0), "n_m", "n_m", places=0)
    assert (exact.low, exact.high) == ("100", "100")


def test_scale_too_coarse() -> None:
    """A scale in fives can't be set to 92 ± 1, can to 92 ± 2 (the mark 90), and is too coarse for either."""
    tight, loose, wide = (scale_fit(F(92), F(n), F(n), F(5), F(20), F(200)) for n in (1, 2, 3))

    assert [f.fits for f in (tight, loose, wide)] == [False, True, True]
    assert [f.too_coarse for f in (tight, loose, wide)] == [True, True, False]
    assert tight.mark == 90
    assert scale_fit(F(94), F(0), F(1), F(5), F(20), F(200)).fits
    assert not scale_fit(F(94), F("3.9"), F("0.9"), F(5), F(20), F(200)).fits
    assert not scale_fit(F(92), F(2), F(3), F(5), F(20), F(200)).too_coarse


@pytest.mark.parametrize(
    ("target", "minus", "plus", "mark"),
    [
        ("92", "0", "10", "95"),  # 92 to 102: 95 and 100 are inside, 90, though nearer, is not
        ("94", "5", "0.9", "90"),  # 89 to 94.9: 95 is nearer, 90 inside
        ("92", "2", "3", "90"),  # 90 and 95 are inside, 90 is nearer
        ("92", "1", "1", None),  # 91 to 93
        ("200", "0", "10", "200"),  # the end of the scale
    ],
)
def test_a_mark_inside_goes_before_a_nearer_one(target: str, minus: str, plus: str, mark: str | None) -> None:
    """Marks every 5 from 20 to 200."""
    fit = scale_fit(F(target), F(minus), F(plus), F(5), F(20), F(200))
    assert (fit.fits, fit.mark) == (mark is not None, F(mark or "90"))


def test_whole_answers() -> None:
    """Words and figures of a check that is due, a range, and a house check, as a person reads them."""
    due = check_due(date(2026, 3, 10), date(2026, 3, 11), cycles=7000)
    good = check_due(date(2026, 3, 10), date(2026, 3, 11))

    assert (due.reason, due.fit) == ("it was used 7000 times since its check", False)
    assert (good.reason, good.days_left) == ("", 364)
    assert check_due(date(2026, 3, 10), date(2027, 3, 11)).reason == "its check ran out on 2027-03-10"
    assert check_due(date(2026, 3, 10), date(2026, 3, 11), dropped_on=date(2026, 3, 12)).fit
    assert usable_range(F(100), F(0)).low == 20
    assert usable_range(F(100), F(10)).rule == "ISO 6789:2003, 20 to 100 % of maximum"
    assert usable_range(F(100), F(10), "2017").rule == "ISO 6789-1:2017, lowest marked value to maximum"


@pytest.mark.parametrize(
    ("angle", "factor"), [(60, F(4, 5)), (120, F(4, 3)), (0, F(2, 3)), (90, F(1)), (180, F(2))]
)
def test_exact_angles(angle: int, factor: F) -> None:
    """At 0, 60, 90, 120 and 180° the cosine is a simple fraction, so the setting is exact (L 400, E 200)."""
    assert extension_ratio(F(400), F(200), F(angle)) == factor
