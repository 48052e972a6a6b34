"""How many people for a lift, what each may bear, and how a lift is judged.

The verdict is never that a lift is harmless: it is `within guidance`, `above guidance`, or `refused` with the
reason.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from math import prod

from yokemate.calc.errors import CalcError, check_range

WITHIN, ABOVE, REFUSED = "within guidance", "above guidance", "refused"
# L23 speaks of a factor of about two as the point of close scrutiny (from memory); beyond it a lift is
# refused here.
REFUSED_ABOVE = 2.0
_TEAM_FACTOR = {1: 1.0, 2: 2 / 3, 3: 1 / 2}
EN_TWO_PEOPLE = 0.85


@dataclass(frozen=True)
class TeamLimit:
    """What a team may lift together.

    Fields:
        limit_kg [kg]: by L23
        second_opinion_kg [kg]: by EN 1005-2 for two and three people, alone one's own figure; none beyond three.
            Shown, never used to loosen
        counted [-]: how many people count; beyond three the best three
        note [-]: what the figure does not say
    """

    limit_kg: float
    second_opinion_kg: float | None
    counted: int
    note: str


@dataclass(frozen=True)
class Place:
    """One place in one phase of a lift, as judged.

    Fields:
        name [-]: the place
        share_kg [kg]: the worst share it may have to bear; 0..50000
        limit_kg [kg]: the lowest of zone figure and equation for whoever stands there; a rating for a
            machine; 0..50000
        machine [-]: true for a crane, dolly, stand or jack
    """

    name: str
    share_kg: float
    limit_kg: float
    machine: bool = False


@dataclass(frozen=True)
class Reason:
    """Why a lift is not within guidance.

    Fields:
        place [-]: the place, or empty when it is about the whole team
        rule [-]: the figure that judged
        share_kg [kg]: what is borne
        limit_kg [kg]: what it was held against
    """

    place: str
    rule: str
    share_kg: float
    limit_kg: float


@dataclass(frozen=True)
class Judgement:
    """The judgement of one phase.

    Fields:
        verdict [-]: within guidance, above guidance, or refused
        reasons [-]: one per figure that was passed
        team_share_kg [kg]: what the people bear together at worst
        team_limit_kg [kg]: the team figure; none when no person bears anything
        second_opinion_kg [kg]: by EN 1005-2; none beyond three people
        second_opinion_passed [-]: one per place whose share passes what EN 1005-2 leaves one of several; it changes no
            verdict
        note [-]: the honest limits of these figures
    """

    verdict: str
    reasons: tuple[Reason, ...]
    team_share_kg: float
    team_limit_kg: float | None
    second_opinion_kg: float | None
    second_opinion_passed: tuple[Reason, ...]
    note: str


@dataclass(frozen=True)
class Fewest:
    """The fewest people whose team figure reaches a load.

    Fields:
        people [-]: how many; none when no number does: use a machine
        limit_kg [kg]: their team figure; for none, that of three
    """

    people: int | None
    limit_kg: float


def team_limit(individual_kg: Sequence[float]) -> TeamLimit:
    """What a team may lift together, from what each may lift alone.

    Formula: two people 2/3 of the sum, three 1/2; a fourth adds steadiness, not capacity (the best three
        count). Second opinion: sum · 0.85
    Args:
        individual_kg [kg]: each person's figure; 1..60
    Returns: TeamLimit
    Source: HSE L23 par. 120 (no factor printed for four; beyond four unlikely to work); EN
        1005-2:2003+A1:2008
    Example:
        >>> round(team_limit([25, 25]).limit_kg, 2)
        33.33
    """
    if not 1 <= len(individual_kg) <= 12:
        raise CalcError("individual_kg", f"{len(individual_kg)} people given.", "Give 1 to 12.")
    for figure in individual_kg:
        check_range("individual_kg", figure, 1, 60)
    best = sorted(individual_kg, reverse=True)
    options = [sum(best[:n]) * _TEAM_FACTOR[n] for n in range(1, min(3, len(best)) + 1)]
    counted = min(3, len(best))
    limit = options[counted - 1]
    second = sum(best) * (EN_TWO_PEOPLE if len(best) > 1 else 1.0) if len(best) <= 3 else None
    note = {1: "", 2: "Shares differ; less on slopes.", 3: "Shares differ; less on slopes."}.get(
        len(best),
        "No figure is printed for more than three: the best three count; let a machine bear the load.",
    )
    return TeamLimit(limit, second, counted, note)


def fewest_people(load_kg: float, individual_kg: float = 25) -> Fewest:
    """The fewest equally able people for a load.

    Formula: smallest n of 1, 2, 3 with n·x·(1, 2/3, 1/2) at least the load
    Args:
        load_kg [kg]: what people bear; 0.1..2000
        individual_kg [kg]: each person's figure; 1..60
    Returns: Fewest
    Source: HSE L23 par. 120
    Example:
        >>> fewest_people(33).people
        2
    """
    check_range("load_kg", load_kg, 0.1, 2000)
    check_range("individual_kg", individual_kg, 1, 60)
    for people, factor in _TEAM_FACTOR.items():
        limit = people * individual_kg * factor
        if load_kg <= limit:
            return Fewest(people, limit)
    return Fewest(None, 1.5 * individual_kg)


def share_by_en_1005(
    figure_kg: float, one_hand: bool = False, two_people: bool = False, other_heavy_work: bool = False
) -> float:
    """What one person's share of a part may be by EN 1005-2, lifted and carried less than 2 m.

    Formula: figure · 0.6 with one hand · 0.85 when two lift · 0.8 beside other heavy work
    Args:
        figure_kg [kg]: what the person may lift there alone, with both hands; 0..25
        one_hand [-]: lifted with one hand
        two_people [-]: each of two who lift together
        other_heavy_work [-]: other physically demanding work on the same day
    Returns:
        share_kg [kg]: to hold each person's share against
    Source: EN 1005-2:2003+A1:2008, factors as a university's lecture on it prints them
    Example:
        >>> round(share_by_en_1005(25, two_people=True), 2)
        21.25
    """
    check_range("figure_kg", figure_kg, 0, 25)
    factors = ((one_hand, 0.6), (two_people, EN_TWO_PEOPLE), (other_heavy_work, 0.8))
    return figure_kg * prod(factor for applies, factor in factors if applies)


def judge(
    places: Sequence[Place], people_most_kg: float | None = None, lightest_figure_kg: float = 3
) -> Judgement:
    """How one phase of a lift is judged, once its shares are known and nobody is beneath.

    Formula: each share against its limit; people's total against the team figure; over twice any figure is
        refused; a machine over its rating is refused; a load the weakest could bear alone needs no sums
    Args:
        places [-]: every place of the phase, with its worst share and its limit
        people_most_kg [kg]: the most that people bear together, as load shares tell it: the heaviest load less the
            least that machines can bear of it together; none adds up their worst shares; 0..20000
        lightest_figure_kg [kg]: a total at or below this needs no sums; 0..25
    Returns: Judgement
    Source: HSE L23 par. 120; NIOSH 94-110; EN 1005-2 as second opinion; it and ISO 11228-1 begin at 3 kg;
        factor two and crediting nothing for a fourth person are this project's choice
    Example:
        >>> judge([Place("left", 16, 25), Place("right", 16, 25)]).verdict
        'within guidance'
    """
    if not places:
        raise CalcError("places", "no place was given.", "Give every place of the phase.")
    check_range("lightest_figure_kg", lightest_figure_kg, 0, 25)
    for place in places:
        check_range("places", place.share_kg, 0, 50000)
        check_range("places", place.limit_kg, 0, 50000)
    people = [place for place in places if not place.machine]
    machines = [place for place in places if place.machine]
    total = sum(place.share_kg for place in people)
    if people_most_kg is not None:
        check_range("people_most_kg", people_most_kg, 0, 20000)
        total = people_most_kg
    refused = any(p.share_kg > p.limit_kg for p in machines)
    reasons = [Reason(p.name, "rating", p.share_kg, p.limit_kg) for p in machines if p.share_kg > p.limit_kg]
    if total <= min([lightest_figure_kg, *(p.limit_kg for p in people)]) or not people:
        return Judgement(REFUSED if refused else WITHIN, tuple(reasons), total, None, None, (), "")
    for place in people:
        if place.share_kg > place.limit_kg:
            reasons.append(Reason(place.name, "own place", place.share_kg, place.limit_kg))
            refused = refused or place.share_kg > REFUSED_ABOVE * place.limit_kg
    usable = [min(place.limit_kg, 60) for place in people if place.limit_kg >= 1]
    if not usable:
        return Judgement(REFUSED, tuple(reasons), total, 0.0, None, (), "No place allows a lift.")
    team = team_limit(usable)
    if total > team.limit_kg + 1e-9:
        reasons.append(Reason("", "team", total, team.limit_kg))
        refused = refused or total > REFUSED_ABOVE * team.limit_kg
    verdict = REFUSED if refused else ABOVE if reasons else WITHIN
    second = () if team.second_opinion_kg is None else _second_opinion(people)
    return Judgement(verdict, tuple(reasons), total, team.limit_kg, team.second_opinion_kg, second, team.note)


def _second_opinion(people: Sequence[Place]) -> tuple[Reason, ...]:
    """EN 1005-2 is held against each person's share; alone it is one's own figure, which has been judged."""
    factor = EN_TWO_PEOPLE if len(people) > 1 else 1.0
    return tuple(
        Reason(p.name, "second opinion", p.share_kg, factor * p.limit_kg)
        for p in people
        if p.share_kg > factor * p.limit_kg
    )


def assign(shares_kg: Sequence[float], limits_kg: Sequence[float]) -> tuple[int, ...] | None:
    """Who stands where, so that nobody passes their own figure and the worst-loaded is as lightly loaded as
    can be.

    The answer names people by their number only, and none is given for a place without saying whose figure
    stood in the way.

    Formula: least of the greatest share/limit over all ways to place people, limits respected
    Args:
        shares_kg [kg]: worst share of each place; 0..500
        limits_kg [kg]: each person's lowest figure, people not needed are left over; 0..100
    Returns:
        people [-]: for each place the number of the person, from 0; none when no way respects every figure
    Source: judgement of this project
    Example:
        >>> assign([23, 12], [15, 25])
        (1, 0)
    """
    for share in shares_kg:
        check_range("shares_kg", share, 0, 500)
    for limit in limits_kg:
        check_range("limits_kg", limit, 0, 100)
    if not 1 <= len(shares_kg) <= 6 or not len(shares_kg) <= len(limits_kg) <= 8:
        raise CalcError(
            "shares_kg", "give 1 to 6 places and at least as many people, at most 8.", "Split the lift."
        )
    best: tuple[float, float, tuple[int, ...]] | None = None
    for way in permutations(range(len(limits_kg)), len(shares_kg)):
        if any(share > limits_kg[person] for share, person in zip(shares_kg, way, strict=True)):
            continue
        loads = [
            share / limits_kg[person] if share else 0.0 for share, person in zip(shares_kg, way, strict=True)
        ]
        candidate = (max(loads), sum(loads), way)
        if best is None or candidate < best:
            best = candidate
    return best[2] if best else None
