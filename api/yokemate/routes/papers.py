"""Free words and photos that entries name by digest only (R1)."""

from __future__ import annotations

import hashlib
from typing import Annotated

from fastapi import APIRouter, Request
from fastapi import Path as PathParam
from pydantic import BaseModel
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from yokemate.routes.doors import inside
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import service
from yokemate.rules.refusals import Refused
from yokemate.store import payloads

router = APIRouter(prefix="/api/builds/{build}", tags=["payloads"])
Digest = Annotated[str, PathParam(pattern=r"^[0-9a-f]{64}$")]
SAME_FOR_EVER = {"Cache-Control": "private, max-age=86400"}
MAGIC = {"image/jpeg": b"\xff\xd8\xff", "image/png": b"\x89PNG\r\n\x1a\n", "image/webp": b"RIFF"}


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
    """What an entry's payload id stands for, unless it was withdrawn."""
    inside(request, build)
    with service(request).database.read() as connection:
        kept = payloads.find(connection, build, payload)
    if kept is None:
        raise Refused("unknown", what="payload", id=payload)
    if kept.body is None:
        raise Refused("withdrawn")
    return Words(id=kept.id, text=kept.body) if kept.kind == "text" else Words(id=kept.id, photo=kept.body)


@router.put(
    "/photos/{sha256}",
    operation_id="put_photo",
    responses=listed(*INSIDE, "viewer", "photo_differs", "not_json", "bad_input"),
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {kind: {"schema": {"type": "string", "format": "binary"}} for kind in MAGIC},
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
    if hashlib.sha256(body).hexdigest() != sha256 or not body.startswith(MAGIC.get(kind, b"\0none")):
        raise Refused("photo_differs")
    at = service(request)
    with at.database.write() as connection:
        new = payloads.put_photo(connection, build, sha256, kind, body, here.actor.person, at.now_ms())
    return PhotoKept(sha256=sha256, new=new)


@router.get(
    "/photos/{sha256}",
    operation_id="photo",
    response_class=Response,
    responses={
        200: {"content": {kind: {} for kind in MAGIC}},
        **listed(*INSIDE, "not_sent_yet", "bad_input"),
    },
)
def photo(request: Request, build: str, sha256: Digest) -> Response:
    """A photo's bytes."""
    inside(request, build)
    with service(request).database.read() as connection:
        found = payloads.photo(connection, build, sha256)
    if found is None:
        raise Refused("not_sent_yet")
    return Response(found[1], media_type=found[0], headers=SAME_FOR_EVER)
