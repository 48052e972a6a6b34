"""How a load rests on its supports, held against worked cases and the laws of balance."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from yokemate.calc.errors import CalcError
from yokemate.calc.statics import Shares, Support, support_shares


def at(*points: tuple[float, float]) -> list[Support]:
    """Supports named by their number, points in metres."""
    return [Support(str(i), x * 1000, y * 1000) for i, (x, y) in enumerate(points)]


def nominal(shares: Shares) -> list[float]:
    return [share.nominal_kg for share in shares.shares]


RECTANGLE = at((0, 0), (2.4, 0), (2.4, 1.2), (0, 1.2))


# Expected figures: balance of moments worked by hand (S1-S4), equal-stiffness least squares and a linear
# programme
# solved outside this project (S5-S8).
@pytest.mark.parametrize(
    ("mass", "points", "cog", "expected", "tol"),
    [
        pytest.param(186, [(0, 0), (1.34, 0)], (0.52, 0), [113.82, 72.18], 0.01, id="S1"),
        pytest.param(90, [(0, 0), (2, 0), (0, 1.5)], (0.6, 0.5), [33, 27, 30], 1e-6, id="S3"),
        pytest.param(84, [(0, 0.9), (0, -0.9), (2.2, 0)], (0.9, 0.1), [29.48, 20.15, 34.36], 0.01, id="S4"),
        pytest.param(100, [(0, 0), (2.4, 0), (2.4, 1.2), (0, 1.2)], (1.2, 0.6), [25] * 4, 0.01, id="S5"),
        pytest.param(
            100, [(0, 0), (2.4, 0), (2.4, 1.2), (0, 1.2)], (1.0, 0.5), [33.33, 25, 16.67, 25], 0.01, id="S6"
        ),
        pytest.param(
            120,
            [(x, y) for x in (0, 1.2, 2.4) for y in (-0.6, 0.6)],
            (1.0, 0.05),
            [23.33, 26.67, 18.33, 21.67, 13.33, 16.67],
            0.01,
            id="S7",
        ),
        pytest.param(60, [(0, 0), (1, 0), (3, 0)], (1.5, 0), [17.14, 19.29, 23.57], 0.01, id="S8"),
    ],
)
def test_worked_shares(
    mass: float,
    points: list[tuple[float, float]],
    cog: tuple[float, float],
    expected: list[float],
    tol: float,
) -> None:
    """R20: the shares of worked cases come out."""
    shares = support_shares(mass, at(*points), cog[0] * 1000, cog[1] * 1000)

    assert nominal(shares) == pytest.approx(expected, abs=tol)


def test_board_held_at_its_ends() -> None:
    """S2: 400 N and 600 N at the ends of a 2 m board put the 1000 N load 0.800 m from the 600 N end."""
    shares = support_shares(1000, at((0, 0), (2, 0)), 800)

    assert nominal(shares) == pytest.approx([600, 400], abs=1e-9)


@pytest.mark.parametrize(
    ("mass", "points", "cog", "low", "high"),
    [
        pytest.param(90, [(0, 0), (2, 0), (0, 1.5)], (0.6, 0.5), [33, 27, 30], [33, 27, 30], id="S3"),
        pytest.param(100, [(0, 0), (2.4, 0), (2.4, 1.2), (0, 1.2)], (1.2, 0.6), [0] * 4, [50] * 4, id="S5"),
        pytest.param(
            100,
            [(0, 0), (2.4, 0), (2.4, 1.2), (0, 1.2)],
            (1.0, 0.5),
            [16.67, 0, 0, 0],
            [58.33, 41.67, 41.67, 41.67],
            id="S6",
        ),
        pytest.param(
            120,
            [(x, y) for x in (0, 1.2, 2.4) for y in (-0.6, 0.6)],
            (1.0, 0.05),
            [0] * 6,
            [55, 65, 55, 65, 50, 50],
            id="S7",
        ),
        pytest.param(60, [(0, 0), (1, 0), (3, 0)], (1.5, 0), [0, 0, 15], [30, 45, 30], id="S8"),
    ],
)
def test_envelopes(
    mass: float,
    points: list[tuple[float, float]],
    cog: tuple[float, float],
    low: list[float],
    high: list[float],
) -> None:
    """R20: how little and how much each stiff support could bear."""
    shares = support_shares(mass, at(*points), cog[0] * 1000, cog[1] * 1000).shares

    assert [s.envelope_min_kg for s in shares] == pytest.approx(low, abs=0.01)
    assert [s.envelope_max_kg for s in shares] == pytest.approx(high, abs=0.01)


def test_tipping_is_refused() -> None:
    """S9, R20: a centre of gravity outside the supports is refused, also where it only may be outside."""
    with pytest.raises(CalcError, match="The load tips"):
        support_shares(100, RECTANGLE, 2600, 600)
    with pytest.raises(CalcError, match="The load may tip"):
        support_shares(100, RECTANGLE, 2390, 600, cog_plus_minus_x_mm=20)
    with pytest.raises(CalcError, match="tips sideways"):
        support_shares(100, at((0, 0), (2, 0)), 1000, 60)
    with pytest.raises(CalcError, match="The load tips"):
        support_shares(100, at((0, 0), (2, 0)), 2001)


def test_beside_the_line_a_little() -> None:
    """Two people at the ends hold a load upright whose centre lies a little across: half the load each, in the middle."""
    shares = support_shares(50, at((0, 0), (2, 0)), 1000, 20, cog_plus_minus_y_mm=30)

    assert nominal(shares) == pytest.approx([25, 25])


@pytest.mark.parametrize("off", [0, 100, 500])
def test_not_knowing_the_centre_lets_nothing_through(off: float) -> None:
    """R20: two supports 2 m apart, the centre 400 mm beside their line: it turns over, however badly it was measured. The
    same of a hook 400 mm beside it. How far it may lie is said."""
    with pytest.raises(CalcError, match=r"400 mm beside the line.*at most 50 mm"):
        support_shares(135, at((0, 0), (2, 0)), 1000, 400, off, off)
    for x, y in ((400, 0), (0, 400), (240, 320)):
        with pytest.raises(CalcError, match=r"400 mm away.*at most 50 mm"):
            support_shares(135, at((0, 0)), x, y, off, off)


def test_uncertain_place_and_mass() -> None:
    """R20: body shell 84 kg, ± 2 cm and ± 1 kg on two ends 2 m apart: by hand, 0.5·W ± 1 % and the mass on
    top.
    """
    share = support_shares(84, at((0, 0), (2, 0)), 1000, cog_plus_minus_x_mm=20, mass_plus_minus_kg=1).shares[
        0
    ]

    assert share.nominal_kg == pytest.approx(42)
    assert share.worst_kg == pytest.approx(85 * 0.51)
    assert share.least_kg == pytest.approx(83 * 0.49)


def test_circle_is_milder_than_box() -> None:
    """On three supports a circle's worst is exact: the plane's slope times the radius, less than the box's
    corner.
    """
    supports = at((0, 0), (2, 0), (0, 2))  # part of support 0 is 1 - x/2 - y/2
    box = support_shares(100, supports, 500, 500, 20, 20, "box").shares[0]
    circle = support_shares(100, supports, 500, 500, 20, 20, "ellipse").shares[0]

    assert box.worst_kg == pytest.approx(50 + 100 * (0.01 + 0.01))
    assert circle.worst_kg == pytest.approx(50 + 100 * math.hypot(0.01, 0.01))


def test_stiff_supports_are_judged_on_the_envelope() -> None:
    """R20: a stand among four is judged on the most it could bear, a person on the estimate."""
    mixed = [Support("stand", 0, 0, stiff=True), *at((2.4, 0), (2.4, 1.2), (0, 1.2))]
    shares = support_shares(100, mixed, 1200, 600).shares

    assert shares[0].judged_kg == pytest.approx(50)
    assert shares[1].judged_kg == pytest.approx(25)


def test_one_support_bears_all() -> None:
    """A single hook over the load bears all of it, and one that is not over it is refused."""
    assert nominal(support_shares(80, at((1, 0)), 1000)) == [80]
    with pytest.raises(CalcError, match="not over the centre"):
        support_shares(80, at((1, 0)), 1100)


@pytest.mark.parametrize(
    ("stiff", "cog", "off", "most"),
    [
        # the corners of a rectangle bear 0 to 50 each of 100 in the middle (S5), two on one long side always 50 together,
        # two across a diagonal 0 to 100: a diagonal may take it all
        ({0, 1}, (1.2, 0.6), 0, 50),
        ({0, 2}, (1.2, 0.6), 0, 100),
        ({0}, (1.2, 0.6), 0, 100),
        (set(), (1.2, 0.6), 0, 100),
        ({0, 1, 2, 3}, (1.2, 0.6), 0, 0),
        # y may be 60 more of 1200: the far side then bears 55
        ({0, 1}, (1.2, 0.6), 60, 55),
    ],
)
def test_what_people_bear_together(
    stiff: set[int], cog: tuple[float, float], off: float, most: float
) -> None:
    """5-lifts 9b.4, by moments: the heaviest load less the least that the stiff supports bear together."""
    supports = [Support(s.name, s.x_mm, s.y_mm, stiff=i in stiff) for i, s in enumerate(RECTANGLE)]
    shares = support_shares(100, supports, cog[0] * 1000, cog[1] * 1000, 0, off)
    heavier = support_shares(90, supports, cog[0] * 1000, cog[1] * 1000, 0, off, mass_plus_minus_kg=10)

    assert shares.people_most_kg == pytest.approx(most, abs=1e-6)
    assert heavier.people_most_kg == pytest.approx(most, abs=1e-6)


def test_what_people_bear_together_beside_a_crane() -> None:
    """Two in front at x 0, a crane at 2 m, 80 kg at 1 m give or take 100 mm along: the front bears 1100/2000 of it at most."""
    supports = [Support("a", 0, -500), Support("b", 0, 500), Support("crane", 2000, stiff=True)]
    assert support_shares(80, supports, 1000, 0, 100, 0).people_most_kg == pytest.approx(44)


def test_lift_off() -> None:
    """A corner that would have to pull bears nothing: the load near one corner rests on the other three."""
    shares = nominal(support_shares(100, at((0, 0), (2, 0), (2, 2), (0, 2)), 300, 300))

    assert shares[2] == 0
    assert shares[0] == pytest.approx(70)
    assert shares[1] == pytest.approx(15)


def test_bad_supports() -> None:
    """R32: two supports at one place, one name twice, none, or nine are refused."""
    for supports in (
        [],
        at((0, 0), (0, 0)),
        [Support("a", 0), Support("a", 900)],
        at(*[(i, 0) for i in range(9)]),
    ):
        with pytest.raises(CalcError) as refused:
            support_shares(10, supports, 0)
        assert refused.value.field == "supports"
    with pytest.raises(CalcError, match="as large as the mass"):
        support_shares(10, at((0, 0), (2, 0)), 1000, mass_plus_minus_kg=10)


metres = st.integers(min_value=-30, max_value=30).map(lambda n: n / 10)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(metres, metres), min_size=2, max_size=6, unique=True),
    st.lists(st.floats(min_value=0.05, max_value=1), min_size=6, max_size=6),
    st.floats(min_value=1, max_value=500),
)
def test_balance(points: list[tuple[float, float]], weights: list[float], mass: float) -> None:
    """Whatever the places: shares add up to the load, moments balance, none pulls, each is inside its
    envelope.
    """
    weights = weights[: len(points)]
    cog = [sum(w * p[k] for w, p in zip(weights, points, strict=True)) / sum(weights) for k in (0, 1)]
    try:
        shares = support_shares(mass, at(*points), cog[0] * 1000, cog[1] * 1000).shares
    except (
        CalcError
    ) as refused:  # three or more almost in line may be taken as a line that the load is beside
        assume("sideways" not in refused.message)
        raise
    parts = [s.nominal_kg for s in shares]

    assert sum(parts) == pytest.approx(mass)
    for k in (0, 1):
        moment = sum(r * p[k] for r, p in zip(parts, points, strict=True))
        assert moment == pytest.approx(mass * cog[k], abs=1e-5 * mass)
    assert min(parts) >= 0
    for s in shares:
        assert s.envelope_min_kg - 1e-6 <= s.nominal_kg <= s.envelope_max_kg + 1e-6


@settings(max_examples=30, deadline=None)
@given(
    st.floats(min_value=-1.1, max_value=1.1),
    st.floats(min_value=-0.5, max_value=0.5),
    st.floats(min_value=1, max_value=300),
)
def test_mirror_and_scale(x: float, y: float, mass: float) -> None:
    """A mirrored load mirrors the shares; twice the mass doubles them."""
    frame = at((-1.2, -0.6), (1.2, -0.6), (1.2, 0.6), (-1.2, 0.6))
    here = nominal(support_shares(mass, frame, x * 1000, y * 1000))
    mirrored = nominal(support_shares(mass, frame, -x * 1000, y * 1000))
    double = nominal(support_shares(2 * mass, frame, x * 1000, y * 1000))

    assert mirrored == pytest.approx([here[1], here[0], here[3], here[2]], abs=1e-6 * mass)
    assert double == pytest.approx([2 * part for part in here])


@settings(max_examples=30, deadline=None)
@given(st.floats(min_value=-0.95, max_value=0.95), st.floats(min_value=-0.95, max_value=0.95))
def test_rectangle_envelope_has_a_closed_form(u: float, v: float) -> None:
    """The heavy corner of a rectangle bears at most W/4·(1 + u + v + t), t = 1 - |u - v|, for u, v ≥ 0."""
    u, v = abs(u), abs(v)
    frame = at((1, 1), (-1, 1), (-1, -1), (1, -1))
    shares = support_shares(100, frame, u * 1000, v * 1000).shares

    assert shares[0].envelope_max_kg == pytest.approx(25 * (1 + u + v + 1 - abs(u - v)), abs=1e-4)
