"""In the demo a visitor picks a person of the invented crew, clearly marked. Elsewhere these refuse."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Request
from pydantic import BaseModel, Field
from starlette.responses import Response

from yokemate.routes.doors import give_cookie, take_cookie
from yokemate.routes.fields import Taken
from yokemate.routes.me import Done
from yokemate.routes.refused import listed
from yokemate.routes.service import DemoPerson, Service, service
from yokemate.rules.refusals import Refused
from yokemate.store import people

router = APIRouter(prefix="/api/demo", tags=["demo"])
REFUSALS = listed("demo_only", "from_elsewhere", "too_big", "malformed", "bad_input")


class DemoMember(BaseModel):
    """Somebody invented. The PIN is no secret here."""

    person: str
    name: str
    role: str
    second: str
    pin: str


class Pick(Taken):
    person: Annotated[str, Field(max_length=80)]


def _demo(request: Request) -> Service:
    at = service(request)
    if at.settings.mode != "demo":
        raise Refused("demo_only")
    return at


def _member(one: DemoPerson) -> DemoMember:
    return DemoMember(**vars(one))


@router.get("/crew", operation_id="demo_crew", responses=REFUSALS)
def crew(request: Request) -> list[DemoMember]:
    """The invented crew."""
    return [_member(one) for one in _demo(request).demo_crew]


@router.post("/pick", operation_id="demo_pick", responses=REFUSALS | listed("unknown"))
def pick(request: Request, response: Response, sent: Pick) -> DemoMember:
    """Be this person on this device."""
    at = _demo(request)
    found = next((one for one in at.demo_crew if one.person == sent.person), None)
    if found is None:
        raise Refused("unknown", what="person", id=sent.person)
    key = people.new_key()
    with at.database.write() as connection:
        people.enrol(connection, key, found.person, at.now_ms(), "Demo")
    give_cookie(at, response, key)
    return _member(found)


@router.post("/leave", operation_id="demo_leave", responses=REFUSALS)
def leave(request: Request, response: Response) -> Done:
    """Be nobody again."""
    take_cookie(_demo(request), response)
    return Done()
