"""Places that no longer suit whoever holds them, after they changed their own figures (R20, R21)."""

from __future__ import annotations

import uuid

from yokemate.handle.facts import suits
from yokemate.handle.path import Handler
from yokemate.handle.shapes import Actor, Envelope
from yokemate.rules.lift_crew import lifter_places
from yokemate.rules.rows import Lift
from yokemate.rules.transitions_lifts import has_effect


def give_up_what_does_not_suit(handler: Handler, build: str, actor: Actor) -> None:
    """Leaves them for this person, as if they had pressed it: the record says no more than that a place is free.

    A load that is up is another matter: there it is set down, not left.
    """
    loaded = handler.states.current(build)
    if loaded is None:
        return
    for lift in loaded.state.all(Lift):
        held = [p for p in lifter_places(lift.plan) if lift.places.get(p) == actor.person]
        if not held or not has_effect(lift, "lift.leave_place"):
            continue
        with handler.database.read() as connection:
            own = suits(connection, loaded.state, lift.id, only=actor.person)
        if not all(own.get((actor.person, place), True) for place in held):
            handler.handle(
                build, actor, Envelope(id=str(uuid.uuid4()), kind="lift.leave_place", body={"lift": lift.id})
            )
