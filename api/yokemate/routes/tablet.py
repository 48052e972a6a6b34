"""The shared garage tablet: icon and PIN, signed out after a minute (R29)."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Request
from pydantic import BaseModel, Field

from yokemate.routes.doors import TABLET_MS, enrolled, person_at
from yokemate.routes.fields import Pin, Taken
from yokemate.routes.me import Done, builds_of, refuse_pin, roles_of
from yokemate.routes.refused import ALWAYS, listed
from yokemate.routes.service import service
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member
from yokemate.store import people
from yokemate.store.people import Person, Phone

router = APIRouter(prefix="/api/tablet", tags=["tablet"])
REFUSALS = listed(*ALWAYS, "not_a_tablet", "bad_input")


class ShareTablet(Taken):
    """True: this device becomes the garage tablet, and nobody's own."""

    share: bool


class SignIn(Taken):
    person: Annotated[str, Field(max_length=80)]
    pin: Pin


class Face(BaseModel):
    person: str
    name: str
    icon: str | None


class SignedIn(BaseModel):
    """Until when, unless something is pressed before."""

    session_until_ms: int


def _tablet(request: Request) -> Phone:
    found = enrolled(request)
    if not found.shared:
        raise Refused("not_a_tablet")
    return found


def _people(request: Request, tablet: Phone) -> list[Person]:
    """The crews of the builds that whoever shared it belongs to."""
    at = service(request)
    ids: set[str] = set()
    for build in builds_of(at, tablet.person):
        request.state.build = build.id  # whose clock a refusal names times by
        loaded = at.handler.states.current(build.id)
        if loaded is not None:
            ids.update(member.id for member in loaded.state.all(Member) if not member.left)
    with at.database.read() as connection:
        return sorted(people.named(connection, ids).values(), key=lambda one: one.name)


@router.post("", operation_id="share_tablet", responses=REFUSALS)
def share(request: Request, sent: ShareTablet) -> Done:
    """Make this device the shared garage tablet; back again only while its owner is signed in there."""
    found = enrolled(request)
    at = service(request)
    if found.shared and not sent.share and person_at(found, at.now_ms()) != found.person:
        raise Refused("signed_out")
    with at.database.write() as connection:
        people.change_phone(
            connection, found.id, shared=sent.share, session_person=None, session_until_ms=None
        )
    at.hub.cut(found.id)
    return Done()


@router.get("/people", operation_id="tablet_people", responses=REFUSALS)
def faces(request: Request) -> list[Face]:
    """Who may sign in here."""
    tablet = _tablet(request)
    return [Face(person=one.id, name=one.name, icon=one.icon) for one in _people(request, tablet)]


@router.post(
    "/sign-in",
    operation_id="tablet_sign_in",
    responses={**REFUSALS, **listed("pin_wrong", "pin_waits", "pin_not_set", "pin_outgrown", "not_a_member")},
)
def sign_in(request: Request, sent: SignIn) -> SignedIn:
    """Sign in with one's own PIN; without a press it ends after a minute."""
    tablet = _tablet(request)
    at = service(request)
    if sent.person not in {one.id for one in _people(request, tablet)}:
        raise Refused("not_a_member")
    tried = at.handler.pins.try_(sent.person, tablet.id, sent.pin, at.now_ms())
    refuse_pin(tried)
    if tried.short and "lead" in roles_of(at, sent.person):
        raise Refused("pin_outgrown")  # here it opens all that a lead may do
    until_ms = at.now_ms() + TABLET_MS
    with at.database.write() as connection:
        people.change_phone(connection, tablet.id, session_person=sent.person, session_until_ms=until_ms)
    return SignedIn(session_until_ms=until_ms)


@router.post("/sign-out", operation_id="tablet_sign_out", responses=REFUSALS)
def sign_out(request: Request) -> Done:
    """Nobody is signed in here any more."""
    tablet = _tablet(request)
    at = service(request)
    with at.database.write() as connection:
        people.change_phone(connection, tablet.id, session_person=None, session_until_ms=None)
    at.hub.cut(tablet.id)
    return Done()
