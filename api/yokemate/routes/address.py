"""Where this service is found, what a new phone must trust first, and who was enrolled at an address it no longer has."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Request
from pydantic import BaseModel, Field

from yokemate.routes.doors import enrolled
from yokemate.routes.invites import drawn
from yokemate.routes.refused import ALWAYS, listed
from yokemate.routes.service import Service, service
from yokemate.store import people

router = APIRouter(prefix="/api", tags=["service"])


class Moved(BaseModel):
    """Phones enrolled at an address that does not lead here any more: what they have not sent lies there."""

    origin: str
    phones: int


class Address(BaseModel):
    """`addresses`: best first. `join_page`, `authority`, `fingerprint`: what a new phone must trust first, and where it
    gets it (null: nothing, or a certificate was brought along)."""

    addresses: list[str]
    join_page: str | None
    join_qr_svg: Annotated[str | None, Field(description="the join page's address as a QR drawing (SVG)")]
    authority: str | None
    fingerprint: str | None
    warnings: list[str]
    moved: list[Moved]


def moved(at: Service) -> list[Moved]:
    """Empty where it can't be known which addresses lead here."""
    if not at.reach.origins:
        return []
    with at.database.read() as connection:
        found = people.phones_by_origin(connection)
    return [Moved(origin=one, phones=count) for one, count in found.items() if one not in at.reach.origins]


@router.get("/address", operation_id="address", responses=listed(*ALWAYS))
def address(request: Request) -> Address:
    """Where this service is found, and what a new phone must trust first."""
    enrolled(request)
    at = service(request)
    reach = at.reach
    return Address(
        addresses=list(reach.addresses),
        join_page=reach.join_page,
        join_qr_svg=drawn(reach.join_page) if reach.join_page else None,
        authority=reach.authority,
        fingerprint=reach.fingerprint,
        warnings=list(reach.warnings),
        moved=moved(at),
    )
