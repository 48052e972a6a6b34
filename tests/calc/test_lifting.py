"""One person's limit, the team's, and the judgement of a lift."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from yokemate.calc.errors import CalcError
from yokemate.calc.let_go import let_go
from yokemate.calc.lifting import (
    Judgement,
    Place,
    Reason,
    assign,
    fewest_people,
    judge,
    team_limit,
)
from yokemate.calc.lifting_filter import filter_figure
from yokemate.calc.niosh import Coupling, burst_rate, lifting_index, weight_limit
from yokemate.calc.statics import Support, support_shares

IN, LB = 2.54, 0.45359237


# Multiplier tables as two national safety bodies print them (HM, VM, DM, AM of the revised equation).
@pytest.mark.parametrize(
    ("argument", "values", "printed", "multiplier"),
    [
        ("reach_cm", (25, 30, 40, 50, 60, 64), (1.00, 0.83, 0.63, 0.50, 0.42, 0), "horizontal"),
        (
            "height_cm",
            (0, 30, 50, 70, 100, 150, 175, 176),
            (0.78, 0.87, 0.93, 0.99, 0.93, 0.78, 0.70, 0),
            "vertical",
        ),
        (
            "vertical_travel_cm",
            (25, 40, 55, 100, 145, 175, 176),
            (1.00, 0.93, 0.90, 0.87, 0.85, 0.85, 0),
            "travel",
        ),
        (
            "twist_deg",
            (0, 15, 30, 45, 60, 75, 90, 105, 120, 135, 136),
            (1, 0.95, 0.90, 0.86, 0.81, 0.76, 0.71, 0.66, 0.62, 0.57, 0),
            "twist",
        ),
    ],
)
def test_multiplier_tables(
    argument: str, values: tuple[float, ...], printed: tuple[float, ...], multiplier: str
) -> None:
    """Each multiplier comes out as printed, to 0.006."""
    base = {"reach_cm": 25.0, "height_cm": 75.0}
    found = [getattr(weight_limit(**{**base, argument: value}), multiplier) for value in values]

    assert found == pytest.approx(printed, abs=0.006)


# Inputs and printed answers of the manual's examples (94-110); exact figures worked outside in inches and
# pounds.
@pytest.mark.parametrize(
    ("h", "v", "d", "a", "grip", "load", "rwl", "index", "printed"),
    [
        pytest.param(10, 30, 10, 0, "good", 51, 51, 1.0, 51, id="N1"),
        pytest.param(23, 15, 49, 0, "fair", 44, 16.02, 2.75, 16.3, id="N2"),
        pytest.param(23, 64, 49, 0, "fair", 44, 14.15, 3.11, 14.5, id="N3"),
        pytest.param(15, 27, 17, 0, "poor", 35, 27.70, 1.26, 28.0, id="N4"),
        pytest.param(20, 10, 17, 0, "poor", 35, 18.06, 1.94, 18.1, id="N5"),
        pytest.param(18, 15, 21, 45, "fair", 40, 18.52, 2.16, 18.9, id="N6"),
    ],
)
def test_manual_examples(
    h: float,
    v: float,
    d: float,
    a: float,
    grip: Coupling,
    load: float,
    rwl: float,
    index: float,
    printed: float,
) -> None:
    """The manual's examples: to 2.5 % of the print (it rounds each multiplier), to 0.02 of the
    inch formula.
    """
    limit = weight_limit(h * IN, v * IN, d * IN, a, coupling=grip, system="us").limit_kg / LB

    assert limit == pytest.approx(printed, rel=0.025)
    assert limit == pytest.approx(rwl, abs=0.02)
    assert lifting_index(load * LB, limit * LB).index == pytest.approx(index, abs=0.02)


@pytest.mark.parametrize(
    ("arguments", "load", "limit", "index"),
    [
        pytest.param((25, 75, 25, 0, 0.2, "short", "good"), 23, 23.0, 1.0, id="N1 metric"),
        pytest.param((45, 25, 40, 0, 4, "long", "good"), 20, 4.558, 4.388, id="N7"),
        pytest.param((35, 45, 50, 0, 0.2, "short", "fair"), 25, 12.92, 1.934, id="N8"),
        pytest.param((40, 95, 50, 0, 0.2, "short", "good"), 25, 12.30, 2.033, id="N9"),
        pytest.param((40, 95, 50, 30, 0.2, "short", "good"), 25, 11.12, 2.249, id="N9 twisted"),
    ],
)
def test_metric_cases(arguments: tuple[float, ...], load: float, limit: float, index: float) -> None:
    """Cases worked outside with the metric equation, to 0.01."""
    found = weight_limit(*arguments).limit_kg  # type: ignore[arg-type]

    assert found == pytest.approx(limit, abs=0.01)
    assert lifting_index(load, found).index == pytest.approx(index, abs=0.005)


def test_limits_of_the_equation() -> None:
    """N10: beyond a limit nothing is liftable, and that is said in words, not as infinity."""
    for arguments in ((64, 75, 25, 0), (25, 176, 25, 0), (25, 75, 176, 0), (25, 75, 25, 136)):
        limit = weight_limit(*arguments).limit_kg
        assert limit == 0
        assert lifting_index(10, limit).band == "not liftable"
        assert lifting_index(10, limit).index is None


def test_frequency_takes_the_worse_row() -> None:
    """Witnesses of the frequency table: whole short column standing; between rows the next worse
    counts; above 15 nothing.
    """
    column = [weight_limit(25, 75, rate_per_min=f).frequency for f in (0.2, 0.5, *range(1, 16))]
    assert column == [
        1,
        0.97,
        0.94,
        0.91,
        0.88,
        0.84,
        0.80,
        0.75,
        0.70,
        0.60,
        0.52,
        0.45,
        0.41,
        0.37,
        0.34,
        0.31,
        0.28,
    ]
    assert weight_limit(25, 75, rate_per_min=0.3).frequency == 0.97
    assert weight_limit(25, 75, rate_per_min=16).limit_kg == 0
    assert weight_limit(25, 75, rate_per_min=10, duration="long").frequency == 0.13
    assert weight_limit(25, 75, rate_per_min=4, duration="long").frequency == 0.45
    assert [
        weight_limit(25, 75, rate_per_min=f, duration="moderate").frequency for f in (0.2, 0.5, 1, 2, 3)
    ] == [0.95, 0.92, 0.88, 0.84, 0.79]


def test_couplings() -> None:
    """Table 7 of the manual: good 1.00 / 1.00, fair 0.95 / 1.00, poor 0.90 / 0.90, hands below 75 cm and from there."""
    grips: tuple[Coupling, ...] = ("good", "fair", "poor")
    found = {
        grip: [weight_limit(25, height, coupling=grip).coupling for height in (74, 75)] for grip in grips
    }

    assert found == {"good": [1, 1], "fair": [0.95, 1], "poor": [0.9, 0.9]}


def test_ends_of_both_systems() -> None:
    """The manual allows a reach of 63 cm or 25 in and a height of 175 cm or 70 in, and nothing beyond; without a travel it is no
    more than the 25 cm that cost nothing.
    """
    assert weight_limit(25, 75).travel == 1
    for system, reach, height in (("metric", 63.0, 175.0), ("us", 25 * IN, 70 * IN)):
        at = weight_limit(reach, height, height, system=system)  # type: ignore[arg-type]
        assert min(at.horizontal, at.vertical, at.travel) > 0.3
        beyond = weight_limit(reach + 0.01, height + 0.01, height + 0.01, system=system)  # type: ignore[arg-type]
        assert (beyond.horizontal, beyond.vertical, beyond.travel) == (0, 0, 0)


def test_bands() -> None:
    """Bands in use today: 1, 1.5, 2, 3."""
    assert [lifting_index(x, 10).band for x in (10, 10.1, 15.1, 20.1, 30.1)] == [
        "very low",
        "low",
        "moderate",
        "high",
        "very high",
    ]


# HSE L23 par. 120, figures as railway, consultancy and training texts print them.
@pytest.mark.parametrize(
    ("figures", "limit"),
    [
        pytest.param([20, 20], 26.67, id="T2"),
        pytest.param([25, 25], 33.33, id="T3"),
        pytest.param([25, 25, 25], 37.5, id="T3 three"),
        pytest.param([16, 16], 21.33, id="T4"),
        pytest.param([16, 16, 16], 24, id="T4 three"),
        pytest.param([25, 16], 27.33, id="T5"),
        pytest.param([50, 50], 66.67, id="T6"),
        pytest.param([50, 50, 50], 75, id="T6 three"),
        pytest.param([25], 25, id="one"),
        pytest.param([25, 25, 25, 25], 37.5, id="T10 four"),
        pytest.param([16, 25, 25, 25, 25], 37.5, id="T10 five"),
    ],
)
def test_team_limits(figures: list[float], limit: float) -> None:
    """R20: two people 2/3 of their sum, three 1/2, a fourth adds nothing."""
    assert team_limit(figures).limit_kg == pytest.approx(limit, abs=0.05)


def test_second_opinion() -> None:
    """T8: EN 1005-2 gives two people 42.5, three 63.75 (extension from memory), none beyond; the
    note says why.
    """
    assert team_limit([25, 25]).second_opinion_kg == pytest.approx(42.5)
    assert team_limit([25, 25, 25]).second_opinion_kg == pytest.approx(63.75)
    assert team_limit([25] * 4).second_opinion_kg is None
    assert "machine" in team_limit([25] * 4).note


@pytest.mark.parametrize(
    ("load", "each", "people"),
    [(25, 25, 1), (33, 25, 2), (37, 25, 3), (40, 25, None), (24, 16, 3), (30, 16, None)],
)
def test_fewest(load: float, each: float, people: int | None) -> None:
    """T7: fewest people, or none: use a machine."""
    assert fewest_people(load, each).people == people


def test_filter_cuts() -> None:
    """L3, L4: 25 kg at once or twice / 5-8 / more than 12 a minute is 17.5 / 12.5 / 5; 20 kg
    twisted is 18 / 16.
    """
    assert [filter_figure(25, f) for f in (0, 1, 2, 3, 8, 10, 13)] == pytest.approx(
        [25, 17.5, 17.5, 12.5, 12.5, 5, 5]
    )
    assert [filter_figure(20, 0, a) for a in (45, 46, 90, 91)] == pytest.approx([20, 18, 18, 16])


def test_one_person_is_no_team() -> None:
    """Alone everybody has one's own figure, and nothing is remarked."""
    alone = team_limit([25])

    assert (alone.limit_kg, alone.second_opinion_kg, alone.counted, alone.note) == (25, 25, 1, "")


def test_fewest_says_their_figure() -> None:
    """T7: a person lifts 25 unless another figure is given; where no number does, three would lift 1.5 times one's figure."""
    assert (fewest_people(26).people, fewest_people(26).limit_kg) == (2, pytest.approx(33.33, abs=0.005))
    assert [fewest_people(40, each).limit_kg for each in (25, 16)] == [37.5, 24]


def test_filter_steps() -> None:
    """L3: a lift every two minutes costs nothing, a little more costs 30 %; between 8 and 12 a minute the larger cut counts; no
    rate is at once, no twist is none.
    """
    assert [filter_figure(20, rate) for rate in (0.5, 0.51, 8, 8.5)] == pytest.approx([20, 14, 10, 4])
    assert filter_figure(20) == 20


def test_at_a_figure_is_within_it() -> None:
    """R20: a share that equals its figure, rating or team figure passes none of them; three of 20 are a team of 30."""
    for places in (
        [Place("one", 25, 25)],
        [Place("crane", 453.59, 453.59, machine=True)],
        [Place(name, 10, 20) for name in ("left", "right", "front")],
    ):
        assert (judge(places).verdict, judge(places).reasons) == ("within guidance", ())


def test_what_needs_no_sums() -> None:
    """R20: 3 kg together need no team figure, a little more does; a place for 1 kg still counts as one, for less it does not."""
    assert [judge(two(share)).team_limit_kg is None for share in (1.5, 1.6)] == [True, False]
    assert judge([Place("far out", 5, 1)]).team_limit_kg == 1
    assert judge([Place("far out", 5, 0.9)]).note == "No place allows a lift."


def two(share: float, limit: float = 25) -> list[Place]:
    return [Place("left", share, limit), Place("right", share, limit)]


@pytest.mark.parametrize(
    ("tail", "verdict"),
    [
        pytest.param(27.0, "within guidance", id="B1 60"),
        pytest.param(33.75, "above guidance", id="B1 75"),
        pytest.param(40.5, "above guidance", id="B1 90"),
    ],
)
def test_trade_saying(tail: float, verdict: str) -> None:
    """B1, R20: two people at the tail of a 60 / 75 / 90 kg frame on a dolly, against two thirds
    of 25 + 25.
    """
    found = judge(two(tail / 2))

    assert found.verdict == verdict
    assert found.team_share_kg == pytest.approx(tail)
    assert found.team_limit_kg == pytest.approx(33.33, abs=0.01)
    assert found.second_opinion_kg == pytest.approx(42.5)


def test_body_shell_story() -> None:
    """R20: by hand 23 + 23 at the rear and 38 in front: 38 is above one person's 25, and 84 over twice
    the 37.5 of three, so it is refused; the crane with 52 and two of 16 is within.
    """
    by_hand = judge([Place("rear left", 23, 25), Place("rear right", 23, 25), Place("front", 38, 25)])
    with_crane = judge([*two(16), Place("crane", 52, 1000, machine=True)])

    assert with_crane.team_share_kg == pytest.approx(32)
    assert by_hand.verdict == "refused"  # 84 kg is over twice the team's 37.5
    assert {r.rule for r in by_hand.reasons} == {"own place", "team"}
    assert with_crane.verdict == "within guidance"


def test_refusals() -> None:
    """R20: over twice a figure and a rating exceeded are refused; E2: 460 kg on a half US ton
    hole (453.59) too.
    """
    assert judge([Place("one", 51, 25)]).verdict == "refused"
    assert judge([Place("one", 50, 25)]).verdict == "above guidance"
    assert judge([Place("crane", 460, 453.59, machine=True)]).verdict == "refused"
    assert judge([Place("crane", 453, 453.59, machine=True)]).verdict == "within guidance"
    assert judge([Place("reach too far", 5, 0), Place("other", 5, 25)]).verdict == "refused"
    with pytest.raises(CalcError, match="no place"):
        judge([])


def test_light_load_needs_no_sums() -> None:
    """R20: a load too light for the weakest to mind is within guidance without a team figure."""
    found = judge(two(1.4))

    assert (found.verdict, found.team_limit_kg) == ("within guidance", None)


def test_verdict_never_says_safe() -> None:
    """No verdict and no note uses the word safe."""
    for places in (two(5), two(20), two(60)):
        found = judge(places)
        assert "safe" not in f"{found.verdict} {found.note}".lower()


def test_assignment() -> None:
    """R21: whoever has the lower figure gets the lighter place; where nobody fits there is no
    answer and no name.
    """
    assert assign([23, 12], [15, 25]) == (1, 0)
    assert assign([10, 10], [16, 25, 25]) == (1, 2)
    assert assign([26, 10], [25, 25]) is None
    assert assign([10], [16]) == (0,)
    assert assign([0, 16], [16, 0]) == (1, 0)  # whoever can lift nothing stands where nothing is borne
    with pytest.raises(CalcError):
        assign([10, 10], [25])


@given(st.lists(st.floats(min_value=1, max_value=60), min_size=1, max_size=6))
def test_team_is_less_than_its_sum(figures: list[float]) -> None:
    """A team's figure never passes the sum of its members' and does not depend on their order."""
    assert team_limit(figures).limit_kg <= sum(figures) + 1e-9
    assert team_limit(figures) == team_limit(figures[::-1])


def test_what_people_bear_together_is_told_or_added_up() -> None:
    """R20, L23: worst shares of 17.5 each add up to 35, over the 33.3 of two; where the load leaves them 32 together at most it
    is that, and where machines may leave them more than the sum of their estimates it is more.
    """
    places = [*two(17.5), Place("dolly", 60, 500, machine=True)]

    assert judge(places).verdict == "above guidance"
    assert judge(places).team_share_kg == pytest.approx(35)
    assert judge(places, people_most_kg=32).verdict == "within guidance"
    assert judge(places, people_most_kg=32).team_share_kg == 32
    assert judge(two(15), people_most_kg=49).verdict == "above guidance"
    assert judge([*two(0), Place("dolly", 60, 500, machine=True)], people_most_kg=0).team_share_kg == 0


def test_burst() -> None:
    """A burst of 10 a minute for 8 minutes counts as 5.33 a minute."""
    assert burst_rate(10, 8) == pytest.approx(5.33, abs=0.005)
    assert burst_rate(10, 15) == 10


@pytest.mark.parametrize(
    ("share", "two_thirds", "second", "women", "equation"),
    [
        (0.40, 83.3, 106.3, 53.3, 61.5),
        (0.45, 74.1, 94.4, 47.4, 54.7),
        (0.50, 66.7, 85.0, 42.7, 49.2),
        (0.55, 60.6, 77.3, 38.8, 44.7),
    ],
)
def test_largest_frame_on_a_dolly(
    share: float, two_thirds: float, second: float, women: float, equation: float
) -> None:
    """B2: the heaviest frame for two at its tail, by L23, EN 1005-2, 16 kg figures, and 12.30 kg
    each; to 0.1 kg.
    """
    men = team_limit([25, 25])
    each = weight_limit(40, 95, 50).limit_kg

    assert men.limit_kg / share == pytest.approx(two_thirds, abs=0.1)
    assert (men.second_opinion_kg or 0) / share == pytest.approx(second, abs=0.1)
    assert team_limit([16, 16]).limit_kg / share == pytest.approx(women, abs=0.1)
    assert 2 * each / share == pytest.approx(equation, abs=0.1)


def test_dolly_moved_in() -> None:
    """B4, B5: 110 kg frame 2.4 m, dolly at 0.70 m, centre 1.20 m: 32.35 kg at the tail; lifting
    the nose first is 55 kg.
    """
    tail = support_shares(110, [Support("dolly", 700), Support("tail", 2400)], 1200).shares[1].nominal_kg
    nose = (
        support_shares(110, [Support("nose", 0), Support("tail on the floor", 2400)], 1200)
        .shares[0]
        .nominal_kg
    )

    assert tail == pytest.approx(32.35, abs=0.01)
    assert judge(two(tail / 2)).verdict == "within guidance"
    assert nose == pytest.approx(55)
    assert judge(two(nose / 2)).verdict != "within guidance"


def test_let_go() -> None:
    """R20: two of four on the heavy side: one letting go tips the load; in a ring of six the
    others hold it.
    """
    corners = [Support("a", 0), Support("b", 2000), Support("c", 2000, 1000), Support("d", 0, 1000)]
    cases = let_go(80, corners, 900, 400)
    six = [Support(f"{x}{y}", x, y) for x in (0, 1200, 2400) for y in (0, 1200)]

    assert [c.holds for c in cases] == [False, False, True, True]
    assert [c.name for c in cases] == ["a", "b", "c", "d"]
    assert all(c.holds for c in let_go(120, six, 1200, 600))
    assert all(c.heaviest_kg < 60 for c in let_go(120, six, 1200, 600))
    with pytest.raises(CalcError, match="tips"):
        let_go(80, corners, 3000, 400)
    with pytest.raises(CalcError, match="only let go"):
        let_go(80, corners[:1], 0)


def test_the_second_opinion_guards_each_share() -> None:
    """EN 1005-2: one of two may bear 0.85 of their own figure, 21.25 of 25 and 13.6 of 16; alone all of it; beyond three no
    factor is known. The verdict stays that of L23: 33 kg is within two thirds of 50.
    """
    uneven = judge([Place("near", 22, 25), Place("far", 11, 25)])
    assert uneven.verdict == "within guidance"
    assert [(r.place, r.rule, r.share_kg) for r in uneven.second_opinion_passed] == [
        ("near", "second opinion", 22)
    ]
    assert uneven.second_opinion_passed[0].limit_kg == pytest.approx(21.25)
    weaker = judge([Place("strong", 12, 25), Place("weak", 14, 16)])
    assert [(r.place, r.limit_kg) for r in weaker.second_opinion_passed] == [("weak", pytest.approx(13.6))]
    assert judge([Place("near", 21.25, 25), Place("far", 10, 25)]).second_opinion_passed == ()
    assert judge([Place("alone", 24, 25)]).second_opinion_passed == ()
    assert judge([Place(str(n), 22, 25) for n in range(4)]).second_opinion_passed == ()
    assert judge([Place("crane", 22, 25, machine=True), Place("hand", 5, 25)]).second_opinion_passed == ()


def test_who_then_bears_most() -> None:
    """By hand: 100 kg on the edge between two of four corners, 1.4 m of 2 m along. The third gone, the two bear 30 and 70;
    one of the two gone, the load tips and nobody bears anything.
    """
    corners = [Support("a", 0), Support("b", 2000), Support("c", 2000, 1000), Support("d", 0, 1000)]
    a, b, c, d = let_go(100, corners, 1400)

    assert (d.heaviest, d.heaviest_kg) == ("b", pytest.approx(70))
    assert (d.borne_kg, a.borne_kg) == (pytest.approx((30, 70, 0)), ())
    assert (c.heaviest, c.heaviest_kg) == ("b", pytest.approx(70))
    assert {(case.holds, case.heaviest, case.heaviest_kg) for case in (a, b)} == {(False, "", 0)}


def test_the_heaviest_person_with_the_centre_uncertain() -> None:
    """By hand: 60 kg at 900, 400 on a stand at (0, 0) and three people. Without d: the stand 33, c 24: c is the person. Without c:
    b 60 × 900/2000 = 27; the centre 80 mm off: 60 × 980/2000 = 29.4, and without d it may tip.
    """
    places = [
        Support("s", 0, stiff=True),
        Support("b", 2000),
        Support("c", 2000, 1000),
        Support("d", 0, 1000),
    ]
    _b, c, d = let_go(60, places, 900, 400)
    assert (d.heaviest, d.heaviest_kg, c.heaviest, c.heaviest_kg) == (
        "c",
        pytest.approx(24),
        "b",
        pytest.approx(27),
    )
    _b, c, d = let_go(60, places, 900, 400, 80)
    assert (d.holds, c.heaviest, c.heaviest_kg) == (False, "b", pytest.approx(29.4))


def test_machines_do_not_let_go() -> None:
    """Only people are let go of: a stand stays."""
    assert [c.name for c in let_go(50, [Support("stand", 0, stiff=True), Support("Kim", 2000)], 1000)] == [
        "Kim"
    ]


def test_whole_judgements() -> None:
    """R20: a judgement names each figure that was passed, what was borne and what it was held against."""
    above = judge([Place("left", 20, 25), Place("front", 26, 25)])
    crane = judge([Place("crane", 600, 453.59, machine=True), *two(1)])

    assert above.verdict == "above guidance"
    assert above.reasons == (
        Reason("front", "own place", 26, 25),
        Reason("", "team", 46, pytest.approx(100 / 3)),
    )
    assert above.note == "Shares differ; less on slopes."
    assert crane == Judgement("refused", (Reason("crane", "rating", 600, 453.59),), 2, None, None, (), "")
    assert judge(two(0, 0)) == Judgement("within guidance", (), 0, None, None, (), "")
    nobody = judge([Place("left", 5, 0.5), Place("right", 5, 0)])
    assert (nobody.verdict, nobody.team_limit_kg) == ("refused", 0)
    assert [r.place for r in nobody.reasons] == ["left", "right"]


@pytest.mark.parametrize(
    ("share", "verdict"),
    [(33.3333, "within guidance"), (33.34, "above guidance"), (66.6, "above guidance"), (66.7, "refused")],
)
def test_team_steps(share: float, verdict: str) -> None:
    """R20: two people's total against 33.33 kg and twice that."""
    assert judge([Place("a", share / 2, 25), Place("b", share / 2, 25)]).verdict == verdict


def test_figures_are_checked() -> None:
    """R32: numbers of people and figures out of range are refused by name."""
    for call in (
        lambda: team_limit([]),
        lambda: team_limit([25] * 13),
        lambda: team_limit([0.5]),
        lambda: team_limit([61]),
    ):
        with pytest.raises(CalcError) as refused:
            call()
        assert refused.value.field == "individual_kg"
    assert team_limit([25] * 12).counted == 3
    for shares, limits in (([], [25]), ([1] * 7, [25] * 8), ([1], [25] * 9)):
        with pytest.raises(CalcError) as refused:
            assign(shares, limits)
        assert refused.value.field == "shares_kg"
    assert assign([1] * 6, [25] * 8) == (0, 1, 2, 3, 4, 5)


def test_assignment_spares_the_worst_loaded() -> None:
    """The worst-loaded person is as lightly loaded, against their own figure, as any way allows."""
    assert assign([20, 10], [22, 40]) == (1, 0)  # 0.5 and 0.45, not 0.91 and 0.25
    assert assign([0, 10], [0, 25]) == (0, 1)
    assert assign([10, 10], [10, 10]) == (0, 1)
