"""Places that no longer suit whoever holds them, after they changed their own figures (R20, R21)."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from yokemate.handle.facts import suited
from yokemate.handle.path import Handler
from yokemate.handle.shapes import Actor, Envelope
from yokemate.rules.lift_crew import lifter_places
from yokemate.rules.rows import Lift
from yokemate.rules.transitions_lifts import has_effect


@dataclass(frozen=True)
class Press:
    """A *Leave my place* as the person's phone makes it. Without one: as a program that presses it by REST."""

    id: str | None = None
    device_ms: int | None = None


def give_up_what_does_not_suit(
    handler: Handler, builds: Sequence[str], actor: Actor, presses: Sequence[Press] = ()
) -> None:
    """Leaves them for this person, as if they had pressed it: the record says no more than that a place is free.

    An id and a time made here would tell in the record that nobody pressed (R21), so those of the phone are taken,
    of `presses` in the order made the last. A load that is up is another matter: there it is set down, not left.
    """
    leaving = [(build, lift) for build in builds for lift in _unsuited(handler, build, actor.person)]
    pressed = [*[Press()] * len(leaving), *presses]
    for (build, lift), press in zip(leaving, pressed[-len(leaving) :], strict=False):
        sent = Envelope(
            id=press.id or str(uuid.uuid4()),
            kind="lift.leave_place",
            device_ms=press.device_ms,
            body={"lift": lift},
        )
        handler.handle(build, actor, sent)


def _unsuited(handler: Handler, build: str, person: str) -> list[str]:
    """Lifts in which a place that this person holds does not suit them."""
    loaded = handler.states.current(build)
    if loaded is None:
        return []
    found: list[str] = []
    for lift in loaded.state.all(Lift):
        held = [place for place in lifter_places(lift.plan) if lift.places.get(place) == person]
        if not held or not has_effect(lift, "lift.leave_place"):
            continue
        with handler.database.read() as connection:
            own = suited(connection, loaded.state, lift.id, only=person).suits
        if not all(own.get((person, place), True) for place in held):
            found.append(lift.id)
    return found
