"""Slings, gear, cranes, slopes and weighing against worked and published cases."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yokemate.calc.errors import CalcError
from yokemate.calc.rigging import (
    choker_factor,
    crane_hole,
    crane_tip,
    eye_bolt_factor,
    shackle_factor,
    sling_factor,
    sling_leg,
    stand_rating,
    unequal_legs,
)
from yokemate.calc.sling_tables import Use, sling_limit
from yokemate.calc.slope import shift_on_slope, slope_shares, weigh, weigh_tilted
from yokemate.calc.statics import Support, support_shares


@pytest.mark.parametrize(
    ("load", "angle", "legs", "rigid", "expected", "tol"),
    [
        pytest.param(1000, 60, 2, True, 577, 1, id="R1 60"),
        pytest.param(1000, 45, 2, True, 707, 1, id="R1 45"),
        pytest.param(1000, 30, 2, True, 1000, 1, id="R1 30"),
        pytest.param(2000, 60, 2, True, 1154.7, 1, id="R2"),
        pytest.param(186, 45, 2, True, 131.5, 0.1, id="R3 2"),
        pytest.param(186, 45, 3, False, 87.7, 0.1, id="R3 3"),
        pytest.param(186, 45, 4, False, 65.8, 0.1, id="R3 4"),
        pytest.param(186, 45, 4, True, 131.5, 0.1, id="four legs, rigid"),
        pytest.param(186, 60, 2, True, 107.4, 0.05, id="Z3 60 included angle"),
        pytest.param(100, 90, 1, True, 100, 0, id="one leg"),
    ],
)
def test_symmetric_slings(
    load: float, angle: float, legs: int, rigid: bool, expected: float, tol: float
) -> None:
    """Leg tensions of rigging handbooks (1000 lb: 577, 707, 1000); a rigid load counts two legs
    (NAVEDTRA 14081).
    """
    assert sling_leg(load, angle, legs, rigid) == pytest.approx(expected, abs=tol)


def test_sling_with_nothing_said() -> None:
    """R3: two legs, and a load that does not give, are taken for granted."""
    assert sling_leg(186, 45, rigid=False) == pytest.approx(131.5, abs=0.05)
    assert sling_leg(186, 45, 3) == pytest.approx(131.5, abs=0.05)


def test_factors_by_angle() -> None:
    """1/sin b as printed: 90° 1.000, 75° 1.035, 60° 1.155, 45° 1.414, 30° 2.000; below 30°
    refused (ASME B30.9).
    """
    assert [2 * sling_leg(1, b) for b in (90, 75, 60, 45, 30)] == pytest.approx(
        [1, 1.035, 1.155, 1.414, 2], abs=0.002
    )
    with pytest.raises(CalcError):
        sling_leg(100, 29.9)
    with pytest.raises(CalcError, match="hangs straight"):
        sling_leg(100, 60, 1)


def test_unequal_legs() -> None:
    """R4: hook 0.5 and 1.0 m from the feet, 1.0 m above, 150 kg: 111.80 in the near leg (63.4°),
    70.71 in the far (45°).
    """
    legs = unequal_legs(150, 500, 1000, 1000)

    assert (legs.near_kg, legs.far_kg) == pytest.approx((111.80, 70.71), abs=0.01)
    assert (legs.near_deg, legs.far_deg) == pytest.approx((63.4, 45), abs=0.05)
    assert unequal_legs(150, 500, 1732, 1000).far_deg == pytest.approx(30, abs=0.001)
    with pytest.raises(CalcError, match="flatter than 30"):
        unequal_legs(150, 500, 1733, 1000)


def test_unequal_legs_by_angle() -> None:
    """R5: legs at 60° and 45°, 150 kg: T60 = W·cos45/sin105 = 109.81, T45 = 77.65."""
    legs = unequal_legs(150, 1000 / 3**0.5, 1000, 1000)

    assert (legs.near_kg, legs.far_kg) == pytest.approx((109.81, 77.65), abs=0.01)


@given(st.floats(min_value=100, max_value=1000), st.floats(min_value=0, max_value=700))
def test_legs_hold_the_load(near: float, more: float) -> None:
    """The upward parts of both legs add up to the load, and the steeper leg carries more."""
    legs = unequal_legs(100, near, near + more, 1000)
    up = legs.near_kg * math.sin(math.radians(legs.near_deg)) + legs.far_kg * math.sin(
        math.radians(legs.far_deg)
    )
    assert up == pytest.approx(100)
    assert legs.near_kg >= legs.far_kg - 1e-9


def test_ten_inch_rule() -> None:
    """R6: 16.25 in along the leg at 10 in of rise is factor 1.625; more than 20 in is under 30°: rig anew."""
    assert sling_factor(16.25 * 25.4, 10 * 25.4) == pytest.approx(1.625)
    assert (sling_factor(508, 254), sling_factor(254, 254)) == (2, 1)
    for length in (509, 253):
        with pytest.raises(CalcError):
            sling_factor(length, 254)


def test_gear_factors() -> None:
    """Choker (sling sheet), shackle (rigging maker), shoulder eye bolt (maker's chart) as printed."""
    assert [choker_factor(a) for a in (180, 121, 120, 90, 89, 60, 59, 30, 29, 0)] == [
        1,
        1,
        0.87,
        0.87,
        0.74,
        0.74,
        0.62,
        0.62,
        0.49,
        0.49,
    ]
    assert [shackle_factor(a) for a in (0, 5, 6, 45, 46, 90)] == [1, 1, 0.7, 0.7, 0.5, 0.5]
    assert [eye_bolt_factor("shoulder", a) for a in (0, 5, 15, 30, 45, 90)] == [1, 1, 0.8, 0.65, 0.3, 0.25]
    assert [eye_bolt_factor("shoulder", a) for a in (5.1, 15.1, 30.1, 45.1)] == [0.8, 0.65, 0.3, 0.25]
    assert eye_bolt_factor("swivel", 90) == 1
    assert eye_bolt_factor("plain", 5) == 1
    with pytest.raises(CalcError, match="straight pull only"):
        eye_bolt_factor("plain", 6)


def test_crane_holes() -> None:
    """E1, E2: 460 kg is too much for the half US ton hole (453.59 kg); between marks the lower mark rules."""
    ton = 907.18474
    marks = [2 * ton, 1.5 * ton, ton, 0.5 * ton]

    assert crane_hole(460, marks) == 3
    assert crane_hole(453, marks) == 4
    assert crane_hole(1000, marks) == 2
    assert crane_hole(500, [1000, 500]) == crane_hole(500, [500, 500]) == 2
    with pytest.raises(CalcError, match="over every rating"):
        crane_hole(2000, marks)
    with pytest.raises(CalcError, match="outward"):
        crane_hole(100, [500, 1000])


def test_crane_tip() -> None:
    """E3: 71.25 against 62.5 kg·m is ratio 1.14, not enough; hook inside the casters: 252.5 /
    72.5 kg on them.
    """
    out, inside = crane_tip(75, 550, 1500, 1750, 250), crane_tip(75, 550, 1500, 1350, 250)

    assert out.ratio == pytest.approx(1.14, abs=0.005)
    assert not out.enough
    assert (inside.ratio, inside.enough) == (None, True)
    assert (inside.front_kg, inside.rear_kg) == pytest.approx((252.5, 72.5))
    assert crane_tip(75, 550, 1500, 1750, 190).enough
    assert crane_tip(75, 550, 1500, 1500, 250).ratio is None
    assert crane_tip(75, 550, 1500, 1500.5, 1).ratio == pytest.approx(75 * 950 / 0.5)


def test_a_crane_that_tips_is_never_enough() -> None:
    """By moments about the front casters: a crane whose own centre is over or ahead of them falls over empty, whatever hangs
    inside. 75 kg × 950 mm against 400 kg × 250 mm: it tips, all 475 kg on the front casters and nothing on the rear ones.
    """
    for centre in (1500, 2000):
        with pytest.raises(CalcError, match="crane_mm"):
            crane_tip(75, centre, 1500, 1400, 10)
    tips = crane_tip(75, 550, 1500, 1750, 400)
    assert (tips.enough, tips.front_kg, tips.rear_kg) == (False, 475, 0)


def test_stands() -> None:
    """E5: a 3 t pair is 1.5 t each; unknown counts as a pair."""
    assert [stand_rating(3000, kind) for kind in ("pair", "unknown", "each")] == [1500, 1500, 3000]


@pytest.mark.parametrize(
    ("above", "tilt", "lower", "upper"),
    [
        (300, 0, 50, 50),
        (300, 10, 52.20, 47.80),
        (300, 20, 54.55, 45.45),
        (300, 30, 57.22, 42.78),
        (-200, 30, 45.19, 54.81),
    ],
)
def test_slope(above: float, tilt: float, lower: float, upper: float) -> None:
    """K1, K2: shares on a slope, worked outside from a/L - (h/L)·tan t."""
    found = slope_shares(1200, 2400, above, tilt)

    assert (found.lower_percent, found.upper_percent) == pytest.approx((lower, upper), abs=0.02)


def test_slope_limit() -> None:
    """K3: the upper hands bear nothing at 75.96°; hands above the centre never let go."""
    assert slope_shares(1200, 2400, 300, 0).tips_at_deg == pytest.approx(75.96, abs=0.01)
    assert slope_shares(1200, 2400, -200, 0).tips_at_deg is None
    with pytest.raises(CalcError, match="turns over"):
        slope_shares(100, 2400, 300, 30)


@pytest.mark.parametrize("above", [300, -200, 0])
@pytest.mark.parametrize("tilt", [0, 10, 30, 60])
def test_a_tilted_load_is_a_level_one_with_its_centre_moved(above: float, tilt: float) -> None:
    """Turned in space by plain rotation and looked at from above, four supports bear what they bear level with the centre
    moved: x·cos t - z·sin t for each point, the lower end at x = 0. For two it is K1 and K2 again.
    """
    corners = [(0.0, 0.0), (2400.0, 0.0), (2400.0, 1200.0), (0.0, 1200.0)]
    turn = math.radians(tilt)

    def seen(points: list[tuple[float, float]], x: float) -> list[float]:
        places = [Support(str(n), *point) for n, point in enumerate(points)]
        return [share.nominal_kg for share in support_shares(80, places, x, 500).shares]

    turned = seen(
        [(x * math.cos(turn), y) for x, y in corners], 1300 * math.cos(turn) - above * math.sin(turn)
    )
    assert seen(corners, 1300 - shift_on_slope(above, tilt)) == pytest.approx(turned, abs=1e-6)
    ends = [Support("lower", 0), Support("upper", 2400)]
    borne = support_shares(100, ends, 1200 - shift_on_slope(above, tilt)).shares
    by_formula = slope_shares(1200, 2400, above, tilt)
    assert [one.nominal_kg for one in borne] == pytest.approx(
        [by_formula.lower_percent, by_formula.upper_percent]
    )


def test_slope_at_its_ends() -> None:
    """By hand: a centre over one pair of hands rests on it alone, and on the other's side of it the load turns over; hands
    level with the centre never let go of it.
    """
    assert slope_shares(0, 2400, 0, 30).upper_percent == 0
    assert slope_shares(2400, 2400, 0, 30).lower_percent == 0
    assert slope_shares(1200, 2400, 0, 30).tips_at_deg is None
    assert slope_shares(1200, 2400, 0.5, 0).tips_at_deg == pytest.approx(90, abs=0.05)
    for centre, above in ((0, 100), (2400, -100)):
        with pytest.raises(CalcError, match="turns over"):
            slope_shares(centre, 2400, above, 30)
    with pytest.raises(CalcError, match="outside 0 to 2400"):
        slope_shares(2401, 2400, 0, 0)


def test_weighing_at_the_edge() -> None:
    """A load must be heavier than both scales' error together; the rear may be raised by 0.8 of the length, where the tilt is
    that of the 3-4-5 triangle: h = L·ΔF/(W·4/3).
    """
    with pytest.raises(CalcError, match="no heavier"):
        weigh(0.5, 0.5, 2400)
    assert weigh(1, 1, 2400, 0.9).plus_minus_mm == pytest.approx(1080)
    tilted = weigh_tilted(100, 1000, 50, 60, 800)
    assert tilted.above_supports_mm == pytest.approx(75)
    assert tilted.tilt_deg == pytest.approx(53.13, abs=0.005)
    with pytest.raises(CalcError, match="too high"):
        weigh_tilted(100, 1000, 50, 60, 800.1)


def test_weighing() -> None:
    """G1: 95 kg frame, 2.4 m, front 52.0 level: 1.0863 m behind the front; half a kilogram off is
    ± 12.6 mm.
    """
    found = weigh(52, 43, 2400)

    assert (found.mass_kg, found.from_front_mm) == pytest.approx((95, 1086.3), abs=0.5)
    assert found.plus_minus_mm == pytest.approx(12.63, abs=0.01)
    with pytest.raises(CalcError, match="no heavier"):
        weigh(0.4, 0.4, 2400)


@pytest.mark.parametrize(
    ("level", "tilted", "field"), [(50, 4000, "tilted"), (50, 100.1, "tilted"), (101, 60, "level")]
)
def test_a_front_scale_shows_no_more_than_the_load(level: float, tilted: float, field: str) -> None:
    """Part of 100 kg is no more than 100 kg; what would come out of such a reading is no height of anything."""
    with pytest.raises(CalcError, match=f"front_{field}_kg: the front scale shows more than the whole load"):
        weigh_tilted(100, 1000, level, tilted, 300)
    weigh_tilted(100, 1000, 50, 100, 300)


def test_weighing_tilted() -> None:
    """G2: car 960 kg, 2.265 m, front 499 and 532.1 with the rear 0.70 m up: 0.240 m above the
    axles (0.520 with 0.28).
    """
    height = weigh_tilted(960, 2265, 499, 532.1, 700)

    assert weigh(499, 461, 2265).from_front_mm == pytest.approx(1087.7, abs=3)
    assert height.above_supports_mm + 280 == pytest.approx(520, abs=3)
    assert height.tilt_deg == pytest.approx(18.0, abs=0.05)
    # half a kilogram at each of two readings: their difference of 33.1 may be 1 off
    assert height.plus_minus_mm == pytest.approx(height.above_supports_mm * 1.0 / 33.1)
    with pytest.raises(CalcError, match="too high"):
        weigh_tilted(960, 800, 499, 532.1, 700)


@pytest.mark.parametrize(
    ("use", "angle", "limit"),
    [
        ("straight", 0, 2000),
        ("basket", 0, 4000),
        ("choked", 0, 1600),
        ("two legs", 45, 2800),
        ("two legs", 46, 2000),
        ("three or four legs", 45, 4200),
        ("three or four legs", 60, 3000),
    ],
)
def test_web_sling_ratings(use: Use, angle: float, limit: float) -> None:
    """R7: a 2 t European web sling by its use, angles to the vertical (a maker's manual)."""
    assert sling_limit(2000, use, angle) == limit


def test_rope_sling_ratings() -> None:
    """R8: 20 mm wire rope, one leg 4.60 t: EN 13414-1 table 4 prints 6.50, 4.60, 9.80, 6.90, 7.35
    t (to 2 %).
    """
    uses: list[tuple[Use, float]] = [
        ("two legs", 45),
        ("two legs", 60),
        ("three or four legs", 45),
        ("three or four legs", 60),
        ("endless choked", 0),
    ]
    found = [sling_limit(4600, use, angle, "rope") / 1000 for use, angle in uses]

    assert found == pytest.approx([6.50, 4.60, 9.80, 6.90, 7.35], rel=0.02)
    with pytest.raises(CalcError, match="straight pull"):
        sling_limit(4600, "straight", 30)
