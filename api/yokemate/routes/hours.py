"""The hours each member can come: given by themselves, or typed for them by the lead."""

from __future__ import annotations

from fastapi import APIRouter, Request
from pydantic import BaseModel

from yokemate.routes.doors import Inside, inside, not_your_role
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import service
from yokemate.rules.hours import Hours, local_day, need_good, zone_of
from yokemate.rules.rows import Build, Member
from yokemate.store import hours
from yokemate.store.notices import tell_beside

router = APIRouter(prefix="/api/builds/{build}/people/{person}/hours", tags=["hours"])
MAY = listed(*INSIDE, "unknown", "role", "viewer", "bad_input")


class HoursSaid(BaseModel):
    """`typed_by`, `at_ms` null: nothing was said yet. `today`: by the garage's clock."""

    hours: Hours
    time_zone: str
    today: str
    typed_by: str | None = None
    at_ms: int | None = None


def _for(request: Request, build: str, person: str) -> Inside:
    """One's own hours; anybody's for a lead, who plans with them."""
    here = inside(request, build)
    here.loaded.state.get(Member, person)
    if person != here.member.id and here.member.role != "lead":
        raise not_your_role(here)
    return here


def _said(request: Request, here: Inside, person: str) -> HoursSaid:
    at, zone = service(request), here.loaded.state.get(Build, "build").time_zone
    today = local_day(at.now_ms(), zone_of(zone)).isoformat()
    with at.database.read() as connection:
        found = hours.typed(connection, here.build, person)
    if found is None:
        return HoursSaid(hours=Hours(), time_zone=zone, today=today)
    return HoursSaid(hours=found[0], time_zone=zone, today=today, typed_by=found[1], at_ms=found[2])


@router.get("", operation_id="hours_of", responses=MAY)
def hours_of(request: Request, build: str, person: str) -> HoursSaid:
    """When somebody can come: for themselves, and for a lead."""
    return _said(request, _for(request, build, person), person)


@router.put("", operation_id="set_hours", responses=MAY)
def set_hours(request: Request, build: str, person: str, said: Hours) -> HoursSaid:
    """Say when you can come; a lead may type it for somebody, and it says so."""
    here = _for(request, build, person)
    at = service(request)
    now_ms = at.now_ms()
    zone = zone_of(here.loaded.state.get(Build, "build").time_zone)
    need_good(said, local_day(now_ms, zone))
    with at.database.write() as connection:
        hours.keep(connection, build, person, said, here.member.id, now_ms)
    if at.database.sqlite:
        at.hub.poke_beside(build)
    else:
        tell_beside(at.database, build)
    return _said(request, here, person)
