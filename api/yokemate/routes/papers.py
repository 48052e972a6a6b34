"""Free words and photos that entries name by digest only (R1)."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Request
from fastapi import Path as PathParam
from pydantic import BaseModel
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from yokemate.handle import photos
from yokemate.handle.photos import FORMATS, keep_photo
from yokemate.routes.doors import inside
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.sees import closed_papers
from yokemate.routes.service import service
from yokemate.rules.refusals import Refused
from yokemate.store import payloads

router = APIRouter(prefix="/api/builds/{build}", tags=["payloads"])
LOOKED_AT = ("photo_differs", "photo_unreadable", "photo_too_large", "photo_says_where")
Digest = Annotated[str, PathParam(pattern=r"^[0-9a-f]{64}$")]


class Words(BaseModel):
    """`text`: free words. `photo`: the photo's SHA-256, to be fetched apart."""

    id: str
    text: str | None = None
    photo: str | None = None


class PhotoKept(BaseModel):
    sha256: str
    new: bool


@router.get(
    "/payloads/{payload}",
    operation_id="payload",
    responses=listed(*INSIDE, "unknown", "withdrawn", "bad_input"),
)
def payload(request: Request, build: str, payload: Digest) -> Words:
    """What an entry's payload id stands for, unless it was withdrawn. What somebody typed and was refused is for them and
    the lead."""
    here = inside(request, build)
    with service(request).database.read() as connection:
        kept = payloads.find(connection, build, payload)
    if kept is None or payload in closed_papers(here.member, here.loaded.state, service(request).now_ms()):
        raise Refused("unknown", what="payload", id=payload)
    if kept.body is None:
        raise Refused("withdrawn")
    return Words(id=kept.id, text=kept.body) if kept.kind == "text" else Words(id=kept.id, photo=kept.body)


@router.put(
    "/photos/{sha256}",
    operation_id="put_photo",
    responses=listed(*INSIDE, "viewer", *LOOKED_AT, "withdrawn", "not_json", "bad_input"),
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {kind: {"schema": {"type": "string", "format": "binary"}} for kind in FORMATS},
        }
    },
)
async def put_photo(request: Request, build: str, sha256: Digest) -> PhotoKept:
    """Hand a photo over; its name is the SHA-256 of its bytes."""
    body = await request.body()
    return await run_in_threadpool(_keep, request, build, sha256, body)


def _keep(request: Request, build: str, sha256: str, body: bytes) -> PhotoKept:
    here = inside(request, build)
    if here.member.role == "viewer":
        raise Refused("viewer", ask_person=None)
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    at = service(request)
    new = keep_photo(
        at.database, at.settings.secret, build, sha256, kind, body, here.actor.person, at.now_ms()
    )
    return PhotoKept(sha256=sha256, new=new)


@router.get(
    "/photos/{sha256}",
    operation_id="photo",
    response_class=Response,
    responses={
        200: {"content": {kind: {} for kind in FORMATS}},
        **listed(*INSIDE, "unknown", "not_sent_yet", "withdrawn", "bad_input"),
    },
)
def photo(request: Request, build: str, sha256: Digest) -> Response:
    """A photo's bytes. A browser may keep them, and asks each time whether they still may be shown: one that was
    withdrawn is gone at once (R1). One that somebody sent with an ask that was refused is for them and the lead.
    """
    here = inside(request, build)
    at = service(request)
    with at.database.read() as connection:
        named = payloads.naming_photo(connection, build, sha256)
        if named and named <= closed_papers(here.member, here.loaded.state, at.now_ms()):
            raise Refused("unknown", what="photo", id=sha256)
        kind, body = photos.photo(connection, at.settings.secret, build, sha256)
    headers = {"Cache-Control": "private, no-cache", "ETag": f'"{sha256}"'}
    if request.headers.get("if-none-match") == headers["ETag"]:
        return Response(status_code=304, headers=headers)
    return Response(body, media_type=kind, headers=headers)
