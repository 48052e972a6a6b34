"""STOP is never refused to whoever stands at a load, and nobody is taken from under one (R18, R19, R29)."""

from __future__ import annotations

import pytest

from rules.lift_yard import CREW, Yard
from rules.torque_shop import member
from yokemate.rules.lift_crew import in_a_lift

MINUTE = 60_000


def over(yard: Yard, who: str) -> None:
    """Their day as a guest ends now."""
    for state in (yard.state, yard.first):
        found = state.rows["member"][who]
        state.rows["member"][who] = found.model_copy(update={"guest_until_ms": yard.now_ms})


@pytest.mark.parametrize("state", ["in_place", "lifting"])
def test_r19_a_guest_whose_day_is_over_stops_the_lift_they_stand_in(state: str) -> None:
    """And does nothing else. One who has no place in it is a guest no more."""
    yard = Yard(member("gast", role="helper"))
    getattr(yard, state)()
    for who in ("bram", "gast"):
        over(yard, who)
    yard.refused("guest_over", "bram", "lift.leave_place", lift="L1")
    yard.no("guest_over", "gast", "stop")
    yard.act("bram", "stop")
    assert yard.lift().state == ("called" if state == "in_place" else "held")


def test_r19_one_who_is_off_the_crew_stops_the_load_that_they_hold() -> None:
    """Builds of before let the lead take somebody off under a load."""
    yard = Yard().lifting()
    for state in (yard.state, yard.first):
        state.rows["member"]["bram"] = state.rows["member"]["bram"].model_copy(update={"left": True})
    yard.act("bram", "stop")
    assert yard.lift().state == "held"
    yard.refused("not_a_member", "bram", "lift.set_down", lift="L1")


def test_r18_a_guest_whose_day_is_over_leaves_an_empty_place() -> None:
    """It is offered to others again, and filled before *Lift*."""
    yard = Yard().in_place()
    over(yard, "bram")
    assert yard.no("place_empty", "desmond", "lift") == {"place": "front right"}
    places = {one.place: one for one in yard.view("lift", "carla", lift="L1").places}
    assert (places["fr"].person, places["fr"].offered, places["fl"].offered) == (None, True, False)
    yard.act("carla", "take_place", place="fr")
    assert yard.lift().places["fr"] == "carla"


def test_r18_nobody_is_taken_off_the_crew_while_they_hold_a_load() -> None:
    """Their phone would be deaf to STOP and their place empty. Set down, or before it is up, they are."""
    yard = Yard().lifting()
    assert yard.refused("under_load", "ines", "crew.leave", person="bram") == {
        "person": "bram",
        "lift": "Shell on",
    }
    yard.act("vera", "stop")
    yard.refused("under_load", "ines", "crew.leave", person="bram")
    yard.do("ines", "crew.leave", person="carla")
    yard.act("desmond", "set_down")
    yard.do("ines", "crew.leave", person="bram")


@pytest.mark.parametrize(
    ("state", "minutes", "stands"),
    [
        ("crewed", 0, False),
        ("in_place", 4, True),
        ("in_place", 7, False),
        ("lifting", 600, True),
        ("set_down", 9, True),
        ("set_down", 11, False),
    ],
)
def test_r18_who_stands_in_a_lift_that_goes_on(state: str, minutes: int, stands: bool) -> None:
    """From the roll call, good for five minutes (read here at one), until ten minutes after it was set down (R18, R29)."""
    yard = Yard()
    getattr(yard, "lifting" if state == "set_down" else state)()
    if state == "set_down":
        yard.act("desmond", "set_down")
    now_ms = yard.now_ms + minutes * MINUTE
    assert {in_a_lift(yard.state, who, now_ms) for who in CREW.values()} == {stands}
    assert not in_a_lift(yard.state, "carla", now_ms)
