"""A lead who lost their phone gets in from the command line of the machine that runs the service (R29)."""

from __future__ import annotations

import uuid

from yokemate.handle.path import Handler
from yokemate.handle.shapes import Actor, Envelope
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member
from yokemate.store import ledger, people
from yokemate.store.people import Code, Person

MACHINE = "machine"  # the device of an act at the machine itself; no phone can have this id
MINUTES = 30


def found(handler: Handler, name: str, only: str | None = None) -> list[tuple[str, Person]]:
    """(build, person) of everybody of that name; LookupError says who there is instead."""
    with handler.database.read() as connection:
        builds = [only] if only else ledger.builds(connection)
    hits: list[tuple[str, Person]] = []
    known: set[str] = set()
    for build in builds:
        loaded = handler.states.current(build)
        ids = [member.id for member in loaded.state.all(Member)] if loaded else []
        with handler.database.read() as connection:
            crew = people.named(connection, ids).values()
        known |= {one.name for one in crew}
        hits += [(build, one) for one in crew if one.name.casefold() == name.casefold()]
    if not hits:
        raise LookupError(f"there is no {name}; there is {', '.join(sorted(known)) or 'nobody'}")
    if len({person.id for _, person in hits}) > 1:
        raise LookupError(f"several people are called {name}: name the build with --build")
    return hits


def let_in(handler: Handler, build: str, person: str) -> tuple[str, int]:
    """Make them lead by an entry, shut old devices out, and give a code for a new phone and PIN."""
    now_ms = handler.clock()
    code, until_ms = people.new_code(), now_ms + MINUTES * 60_000

    def also(connection: people.Connection) -> None:
        people.shut_out_all(connection, person, now_ms)
        people.add_code(connection, code, Code(build, "", until_ms, person=person, sets_pin=True))

    envelope = Envelope(id=str(uuid.uuid4()), kind="crew.recover_lead", body={"person": person})
    answer = handler.handle(build, Actor(person, MACHINE), envelope, also=also)
    if answer.code:
        raise Refused(answer.code, **answer.params)
    return code, until_ms
