"""Which place is proposed to somebody who comes: so that the worst-loaded is as lightly loaded as can be (R21).

Worked out for each viewer alone, from their own figure and the published one for everybody else. What the others'
figures are is not known here, so no proposal can tell of them. Where more come than places are free, everybody is
counted among those who take one: two may then read of the same place, and the first takes it.
"""

from __future__ import annotations

from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.calc.lifting import assign
from yokemate.rules.frame import State
from yokemate.rules.lift_crew import lifter_places
from yokemate.rules.lift_shares import worst_share_kg
from yokemate.rules.lift_verdict import FIGURES_KG
from yokemate.rules.rows import Lift, Member

MOST_PLACES = 6  # ways to place more people are too many to compare


def proposed_place(state: State, lift: Lift, me: str, own_kg: Fraction | None) -> str | None:
    """A free lifter's place for `me`, or None: no place free, not coming, or none that suits."""
    free = [place for place in lifter_places(lift.plan) if place not in lift.places][:MOST_PLACES]
    others = [one for one in _coming(state, lift) if one != me][: max(len(free) - 1, 0)]
    if not free or lift.answers.get(me) != "will_come" or me in lift.places.values():
        return None
    shares = [float(worst_share_kg(lift.shares, place) or "0") for place in free]
    published = max(
        float(FIGURES_KG[0]), *shares
    )  # others: whoever comes bears what the lift was called with
    mine = min(float(own_kg), 100.0) if own_kg is not None else published
    people = sorted([*others, me])
    figures = [mine if one == me else min(published, 100.0) for one in people]
    figures += [min(published, 100.0)] * (len(free) - len(people))  # who is still to come
    try:
        found = assign(shares, figures)
    except CalcError:
        return None
    at = people.index(me)
    return free[found.index(at)] if found is not None and at in found else None


def _coming(state: State, lift: Lift) -> list[str]:
    """Adults of the crew who said so and hold no place yet."""
    taken = set(lift.places.values())
    said = [one for one, word in lift.answers.items() if word == "will_come" and one not in taken]
    members = [(one, state.find(Member, one)) for one in said]
    return sorted(one for one, member in members if member and not member.left and member.minor is None)
