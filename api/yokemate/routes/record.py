"""The record: entries as they were written, and whether their chain holds."""

from __future__ import annotations

import json
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from pydantic import BaseModel

from yokemate.handle.shapes import EXACT
from yokemate.routes.doors import inside
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.sees import reads
from yokemate.routes.service import service
from yokemate.rules.rows import Member
from yokemate.store import ledger
from yokemate.store.verify import verify

router = APIRouter(prefix="/api/builds/{build}/record", tags=["record"])


class EntryLine(BaseModel):
    """One entry. `digest` is the SHA-256 of `text`, its canonical JSON, which holds the digest before.

    Of invites, and of what others typed and were refused, only number, kind and digests are shown (R31); the rest is null.
    """

    number: int
    digest: str
    prev: str
    kind: str
    by: str | None = None
    typed_by: str | None = None
    at_ms: int | None = None
    device_ms: int | None = None
    data: dict[str, Any] | None = None
    text: str | None = None


class Record(BaseModel):
    head: int
    entries: list[EntryLine]


class ChainChecked(BaseModel):
    """`withdrawn`: notes or photos withdrawn by an entry with a reason. `photos_awaited`: photos that entries name and
    whose bytes are not here; they follow apart, and some never come."""

    holds: bool
    entries: int
    head: str
    problems: list[str]
    withdrawn: int
    photos_awaited: int


@router.get("", operation_id="record", responses=listed(*INSIDE, "bad_input"))
def record(
    request: Request,
    build: str,
    start: Annotated[int, Query(alias="from", ge=1, le=EXACT)] = 1,
    count: Annotated[int, Query(ge=1, le=500)] = 100,
) -> Record:
    """Entries from a number on, in order."""
    here = inside(request, build)
    now_ms = service(request).now_ms()
    with service(request).database.read() as connection:
        found = list(ledger.entries(connection, build, start - 1, count))
    return Record(head=here.loaded.head.number, entries=[_line(one, here.member, now_ms) for one in found])


def _line(one: ledger.Stored, member: Member, now_ms: int) -> EntryLine:
    said = json.loads(one.text)
    shown = EntryLine(number=one.number, digest=one.digest, prev=one.prev, kind=said["kind"])
    if not reads(member, said["kind"], now_ms, said["by"]):
        return shown
    names = ("by", "typed_by", "at_ms", "device_ms", "data")
    return shown.model_copy(update={"text": one.text, **{name: said[name] for name in names}})


@router.get("/verify", operation_id="verify_record", responses=listed(*INSIDE))
def check(request: Request, build: str) -> ChainChecked:
    """Check every number, digest, payload and photo of this build's record."""
    inside(request, build)
    with service(request).database.read(steady=True) as connection:
        found = verify(connection, build)
    return ChainChecked(
        holds=found.holds,
        entries=found.entries,
        head=found.head,
        problems=found.problems,
        withdrawn=found.withdrawn,
        photos_awaited=found.photos_awaited,
    )
