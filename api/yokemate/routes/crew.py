"""Names for the crew's ids. Never a limit, never hours (R21)."""

from __future__ import annotations

from fastapi import APIRouter, Request
from pydantic import BaseModel

from yokemate.routes.doors import inside
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import service
from yokemate.rules.rows import Member
from yokemate.store import people

router = APIRouter(prefix="/api/builds/{build}", tags=["crew"])


class CrewPerson(BaseModel):
    """`devices`: how many phones are enrolled and not shut out."""

    person: str
    name: str
    initials: str
    icon: str | None
    pin_set: bool
    devices: int


def initials(name: str) -> str:
    words = [word for word in name.replace("-", " ").split() if word]
    return "".join(word[0].upper() for word in (words if len(words) < 3 else [words[0], words[-1]]))


@router.get("/people", operation_id="people", responses=listed(*INSIDE))
def crew(request: Request, build: str) -> list[CrewPerson]:
    """Everybody who belongs or belonged to the build, by name."""
    here = inside(request, build)
    ids = [member.id for member in here.loaded.state.all(Member)]
    with service(request).database.read() as connection:
        known = people.named(connection, ids)
        counts = people.phone_counts(connection, ids)
    return [
        CrewPerson(
            person=one.id,
            name=one.name,
            initials=initials(one.name),
            icon=one.icon,
            pin_set=one.pin_set,
            devices=counts.get(one.id, 0),
        )
        for one in sorted(known.values(), key=lambda one: one.name)
    ]
