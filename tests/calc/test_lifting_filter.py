"""One person's figures beside the lifting equation: the UK filter, carrying, pushing, and EN 1005-2."""

import itertools
from typing import get_args

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.lifting import Place, judge, share_by_en_1005, team_limit
from yokemate.calc.lifting_filter import (
    Figure,
    Zone,
    carrying,
    figure_at_heights,
    filter_figure,
    rolling,
    zone_figure,
)
from yokemate.calc.niosh import weight_limit

ZONES: tuple[Zone, ...] = get_args(Zone)

# HSE L23 and INDG143, lifting and lowering filter, from the top zone down: close, at arm's length. A hospital's training
# booklet (the drawing as text, with its height lines between the rows) and a law firm's guide (two tables) print the same.
MEN = ((10, 5), (20, 10), (25, 15), (20, 10), (10, 5))
WOMEN = ((7, 3), (13, 7), (16, 10), (13, 7), (7, 3))


@pytest.mark.parametrize(("figure", "rows"), [("25 kg", MEN), ("16 kg", WOMEN)])
def test_every_zone(figure: Figure, rows: tuple[tuple[int, int], ...]) -> None:
    """L2: every zone of both figures; the greatest, 25 and 16, are those that everybody quotes."""
    found = [
        (zone_figure(zone, zone, "close", figure), zone_figure(zone, zone, "arm's length", figure))
        for zone in ZONES
    ]

    assert tuple(found) == rows


@pytest.mark.parametrize(
    ("start", "end", "figure", "expected"),
    [
        ("below mid lower leg", "elbow to knuckle", "25 kg", 10),  # off the floor to the waist
        ("knuckle to mid lower leg", "elbow to knuckle", "25 kg", 20),
        ("elbow to knuckle", "above shoulder", "25 kg", 10),
        ("elbow to knuckle", "shoulder to elbow", "16 kg", 13),
        # Both ends are 20, and so is the least on the way: the middle is the best zone.
        ("knuckle to mid lower leg", "shoulder to elbow", "25 kg", 20),
    ],
)
def test_the_smallest_zone_on_the_way_counts(start: Zone, end: Zone, figure: Figure, expected: int) -> None:
    """L1: a lift that crosses zones takes the smallest figure (HSE, in two reprints), up as down."""
    assert zone_figure(start, end, "close", figure) == expected
    assert zone_figure(end, start, "close", figure) == expected


def test_further_out_further_off_or_further_on_is_never_more() -> None:
    """The filter falls with reach and with every zone that is added, and 16 kg people are never given more than 25 kg people."""
    for i, j in itertools.combinations_with_replacement(range(len(ZONES)), 2):
        way = (ZONES[i], ZONES[j])
        assert zone_figure(*way, "arm's length") < zone_figure(*way)
        assert zone_figure(*way, figure="16 kg") < zone_figure(*way)
        assert zone_figure(*way) <= min(zone_figure(zone, zone) for zone in way)


# Men close, at both sides of each border: shoulder of a small woman 124 cm (workplace chart, 5 in 100), elbow of an average
# British woman 100 (Pheasant), knuckle 75 (NIOSH 94-110), half of a tall man's knee height 59.5 (30).
BORDERS = [(125, 10), (124, 20), (101, 20), (100, 25), (75, 25), (74, 20), (30, 20), (29, 10), (0, 10)]


@pytest.mark.parametrize(("height", "expected"), BORDERS)
def test_zones_by_height(height: int, expected: int) -> None:
    """L2: the zone that holds the hands."""
    assert figure_at_heights(height, height) == expected


def test_heights_and_reach() -> None:
    """L1: the smallest on the way, up as down; close ends at 30 cm from the ankles (ACGIH limits for lifting)."""
    assert figure_at_heights(75, 165) == figure_at_heights(165, 75) == 10
    assert figure_at_heights(20, 160, 30) == 10
    assert (figure_at_heights(90, 90, 30), figure_at_heights(90, 90, 31)) == (25, 15)
    assert figure_at_heights(160, 20, 40, "16 kg") == 3


@pytest.mark.parametrize(
    ("arguments", "field"),
    [((301, 0), "from_height_cm"), ((0, -1), "to_height_cm"), ((0, 0, 201), "reach_cm"), ((0, 0, 0, "20"), "figure")],
)  # fmt: skip
def test_heights_that_nobody_has_are_refused(arguments: tuple[float, ...], field: str) -> None:
    """R32."""
    with pytest.raises(CalcError) as refused:
        figure_at_heights(*arguments)  # type: ignore[arg-type]
    assert refused.value.field == field


def test_zone_then_cuts() -> None:
    """L2, L3, L4 together by hand: 25 kg at the best zone, twice a minute -30 %, twisted over 45° -10 %: 15.75 kg."""
    best = zone_figure("elbow to knuckle", "elbow to knuckle")

    assert filter_figure(best, 2, 50) == pytest.approx(25 * 0.7 * 0.9)
    assert filter_figure(zone_figure("above shoulder", "above shoulder", "arm's length", "16 kg")) == 3


def test_unknown_zones_are_refused() -> None:
    """R32: a zone, a reach and a figure that are not in the table."""
    for arguments, field in (
        (("head", "elbow to knuckle"), "from_zone"),
        (("elbow to knuckle", "floor"), "to_zone"),
        (("elbow to knuckle", "elbow to knuckle", "far"), "arms"),
        (("elbow to knuckle", "elbow to knuckle", "close", "20"), "figure"),
    ):
        with pytest.raises(CalcError) as refused:
            zone_figure(*arguments)  # type: ignore[arg-type]
        assert refused.value.field == field


def test_carrying() -> None:
    """L5: held against the body, to about 10 m without a rest, hands not below the knuckles (HSE, in two reprints)."""
    assert (carrying(10).holds, carrying(10).reason) == (True, "")
    assert carrying(10.1).reason == "more than about 10 m without a rest"
    assert carrying(1, against_body=False).reason == "not held against the body"
    assert carrying(1, below_knuckle=True).reason == "hands below the knuckles"
    everything = carrying(30, against_body=False, below_knuckle=True)
    assert (everything.holds, everything.reason.count(";")) == (False, 2)


@pytest.mark.parametrize(
    ("load", "slope", "floor", "force"),
    [
        (200, 0, "smooth", 4),  # HSE's page on pushing and pulling: 200 kg, 4 kg
        (400, 0, "smooth", 8),  # HSE's brief guide: 400 kg, 8 kg
        (400, 0, "uneven", 40),  # HSE's page: uneven ground up to 10 % of the load
        # 1 in 12, 4.7636°: 400 × (sin = 0.083045) = 33.2, and 400 × 0.02 × 0.996546 = 7.97
        (400, 4.7636, "smooth", 41.19),
    ],
)
def test_what_it_takes_to_roll_a_load(load: float, slope: float, floor: str, force: float) -> None:
    """L6: examples of HSE's own pages; 400 kg up 1 in 12 takes over 30 kg, above the guide for men and well above for women."""
    assert rolling(load, slope, floor).force_kgf == pytest.approx(force, abs=0.01)  # type: ignore[arg-type]


def test_pushing_guide() -> None:
    """L6: start or stop 20 and 15 kgf, keep moving 10 and 7 (HSE's page and two reprints); beyond 20 m it is refused."""
    men, women = rolling(400), rolling(400, figure="16 kg")

    assert (men.start_limit_kgf, men.moving_limit_kgf, men.verdict) == (20, 10, "within guidance")
    assert (women.start_limit_kgf, women.moving_limit_kgf, women.verdict) == (15, 7, "above guidance")
    assert [rolling(load).verdict for load in (500, 501)] == [
        "within guidance",
        "above guidance",
    ]  # 2 % is 10 kgf
    assert [rolling(load, figure="16 kg").verdict for load in (350, 351)] == [
        "within guidance",
        "above guidance",
    ]
    assert rolling(400, 4.7636).verdict == "above guidance"
    assert rolling(400, 4.7636).force_kgf > men.start_limit_kgf
    with pytest.raises(CalcError, match="distance_m"):
        rolling(400, distance_m=20.1)


def test_what_is_light_is_3_kg() -> None:
    """L7, L8: ISO 11228-1 and EN 1005-2 begin at 3 kg (scopes of both), where a judgement begins to need sums."""
    assert judge([Place("one", 3, 25)]).team_limit_kg is None
    assert judge([Place("one", 3.1, 25)]).team_limit_kg is not None


def test_en_1005_factors() -> None:
    """L8: one hand 0.6, two people 0.85, other heavy work 0.8 (a lecture on EN 1005-2): each alone, and all: 10.2 kg of 25."""
    assert share_by_en_1005(25) == 25
    assert share_by_en_1005(25, one_hand=True) == pytest.approx(15)
    assert share_by_en_1005(25, two_people=True) == pytest.approx(21.25)
    assert share_by_en_1005(25, other_heavy_work=True) == pytest.approx(20)
    assert share_by_en_1005(25, True, True, True) == pytest.approx(10.2)


def test_en_1005_and_the_team_s_second_opinion_are_one_rule() -> None:
    """T8: two people of 25 kg bear 42.5 by EN 1005-2, each 21.25; for 12.30 kg each (N9) it is 20.91 together."""
    for figure in (25.0, 16.0, weight_limit(40, 95, 50).limit_kg):
        assert team_limit([figure, figure]).second_opinion_kg == pytest.approx(
            2 * share_by_en_1005(figure, two_people=True)
        )
    assert 2 * share_by_en_1005(12.30, two_people=True) == pytest.approx(20.91)
