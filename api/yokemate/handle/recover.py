"""Who lost a phone or forgot a PIN gets in from the command line of the machine that runs the service (R29)."""

from __future__ import annotations

import uuid

from yokemate.handle.path import Handler
from yokemate.handle.shapes import Actor, Envelope
from yokemate.rules.frame import Role
from yokemate.rules.refusals import REFUSALS
from yokemate.rules.rows import Member
from yokemate.store import ledger, people
from yokemate.store.people import Code, Person

MACHINE = "machine"  # the device of an act at the machine itself; no phone can have this id
MINUTES = 30


def found(handler: Handler, name: str, only: str | None = None) -> list[tuple[str, Person, Role]]:
    """(build, person, role there) of everybody of that name; LookupError says who there is instead."""
    with handler.database.read() as connection:
        builds = [only] if only else ledger.builds(connection)
    hits: list[tuple[str, Person, Role]] = []
    known: set[str] = set()
    for build in builds:
        loaded = handler.states.current(build)
        members = {member.id: member for member in loaded.state.all(Member)} if loaded else {}
        with handler.database.read() as connection:
            crew = people.named(connection, members).values()
        known |= {one.name for one in crew}
        hits += [(build, one, members[one.id].role) for one in crew if one.name.casefold() == name.casefold()]
    if not hits:
        raise LookupError(f"there is no {name}; there is {', '.join(sorted(known)) or 'nobody'}")
    if len({person.id for _, person, _ in hits}) > 1:
        raise LookupError(f"several people are called {name}: name the build with --build")
    return hits


def lost_lead(handler: Handler, name: str, only: str | None = None) -> list[tuple[str, Person]]:
    """The builds that this person leads; where they lead none, or one is named, those they belong to: who holds the
    machine may make a lead.
    """
    hits = found(handler, name, only)
    leads = [(build, person) for build, person, role in hits if role == "lead"]
    return leads or [(build, person) for build, person, _ in hits]


def let_in(handler: Handler, build: str, person: str) -> str:
    """Make them lead by an entry, shut old devices out, and give a code for a new phone and PIN."""
    return _code(handler, build, person, "crew.recover_lead", shut_out=True)


def new_pin(handler: Handler, build: str, person: str) -> str:
    """By an entry, a code with which they set another PIN, on the phone they have or on a new one."""
    return _code(handler, build, person, "crew.renew_pin", shut_out=False)


def _code(handler: Handler, build: str, person: str, kind: str, *, shut_out: bool) -> str:
    now_ms = handler.clock()
    code, until_ms = people.new_code(), now_ms + MINUTES * 60_000

    def also(connection: people.Connection) -> None:
        if shut_out:
            people.shut_out_all(connection, person, now_ms)
        people.add_code(connection, code, Code(build, "", until_ms, person=person, sets_pin=True))

    envelope = Envelope(id=str(uuid.uuid4()), kind=kind, body={"person": person})
    answer = handler.handle(build, Actor(person, MACHINE), envelope, also=also)
    if answer.code:
        raise ValueError(REFUSALS[answer.code].says)
    return code
