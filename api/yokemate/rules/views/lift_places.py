"""One place of a lift, for one viewer: what it asks, who has it, whether it is offered to them (R18, R21)."""

from __future__ import annotations

from typing import Literal

from yokemate.rules.frame import State
from yokemate.rules.lift_crew import (
    GATHERING,
    ROLL_MS,
    answers_roll,
    caller_place,
    could_stand,
    guide_places,
    is_empty,
    lifter_places,
    may_call,
    may_share_person,
    place_words,
    unsuited_code,
)
from yokemate.rules.lift_shares import worst_share_kg
from yokemate.rules.rows import Lift, Member
from yokemate.rules.transitions_lifts import has_effect
from yokemate.rules.views.frame import Viewer, ViewPart
from yokemate.rules.views.saying import Saying, saying


class PlaceView(ViewPart):
    """A place. `offered`, `proposed` and `not_offered` are about the viewer alone."""

    place: str
    say: str
    kind: Literal["lifter", "guide", "caller", "lookout"]
    person: str | None
    mine: bool
    calls: bool
    ready: bool
    ticked_ms: int | None
    tick_fresh: bool
    in_roll: bool
    nominal_kg: str | None
    worst_kg: str | None
    offered: bool
    proposed: bool  # of those offered: the one that leaves the worst-loaded as lightly loaded as can be
    not_offered: Saying | None
    could_stand: list[str]  # while it is empty: by role and age alone, the same for every viewer (R21)


def place_view(state: State, lift: Lift, place: str, viewer: Viewer, proposed: str | None) -> PlaceView:
    empty = is_empty(state, lift, place, viewer.now_ms)
    person = None if empty and lift.state in GATHERING else lift.places.get(place)
    tick = lift.roll.get(place)
    code = _why_not_me(state, lift, place, viewer)
    free = empty and has_effect(lift, "lift.take_place")
    return PlaceView(
        place=place,
        say=place_words(lift.plan, place),
        kind=_kind(lift, place),
        person=person,
        mine=person == viewer.person,
        calls=place == caller_place(lift.plan),
        ready=person in lift.ready,
        ticked_ms=tick.at_ms if tick else None,
        tick_fresh=tick is not None and viewer.now_ms - tick.at_ms <= ROLL_MS,
        in_roll=person is not None and answers_roll(lift, place),
        nominal_kg=nominal_kg(lift, place),
        worst_kg=worst_share_kg(lift.shares, place),
        offered=free and code is None,
        proposed=free and code is None and place == proposed,
        not_offered=saying(code, {"person": viewer.person}) if free and code else None,
        could_stand=could_stand(state, lift, place, viewer.now_ms),
    )


def nominal_kg(lift: Lift, place: str) -> str | None:
    """Nominal share in the phase where the place bears most."""
    worst = worst_share_kg(lift.shares, place)
    return next((s.nominal_kg for s in lift.shares if s.support == place and s.worst_kg == worst), None)


def _kind(lift: Lift, place: str) -> Literal["lifter", "guide", "caller", "lookout"]:
    if place in lifter_places(lift.plan):
        return "lifter"
    if place in guide_places(lift.plan):
        return "guide"
    return "caller" if place == "caller" else "lookout"


def _why_not_me(state: State, lift: Lift, place: str, viewer: Viewer) -> str | None:
    """Why this place is not for the viewer. A private limit is told to them alone."""
    me = state.find(Member, viewer.person)
    if me is None or me.role == "viewer":
        return "viewer"
    if me.minor is not None:
        return "minor_no_place"
    mine = [p for p, person in lift.places.items() if person == viewer.person]
    if any(not may_share_person(lift.plan, place, other) for other in mine):
        return "one_place"
    if place == caller_place(lift.plan) and not may_call(me):
        return "caller_skill"
    if place in lifter_places(lift.plan) and not viewer.facts.suits.get((viewer.person, place), True):
        return unsuited_code(viewer.facts, viewer.person, place)
    return None
