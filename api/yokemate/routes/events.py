"""The live stream of a build (a head number, never data), and the beats of phones in a lift."""

from __future__ import annotations

from fastapi import APIRouter, Request
from pydantic import BaseModel
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response, StreamingResponse

from yokemate.routes.doors import inside
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import service
from yokemate.store.notices import tell_beat

router = APIRouter(prefix="/api/builds/{build}", tags=["live"])


class Beaten(BaseModel):
    """The service's clock, so that a phone knows how far its own is off."""

    now_ms: int


@router.get(
    "/events",
    operation_id="events",
    response_class=StreamingResponse,
    responses={
        200: {"description": "Events: `id` is the head number.", "content": {"text/event-stream": {}}},
        **listed(*INSIDE),
    },
)
async def events(request: Request, build: str) -> StreamingResponse:
    """Server-sent events: each says that the head moved; what changed is fetched by an exchange."""
    here = await run_in_threadpool(inside, request, build)
    stream = service(request).hub.events(build, here.actor.device, here.loaded)
    headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
    return StreamingResponse(stream, headers=headers, media_type="text/event-stream")


@router.post("/beat", operation_id="beat", responses={200: {"model": Beaten}, **listed(*INSIDE)})
def beat(request: Request, build: str) -> Response:
    """This phone is alive (every 2 s during a lift, R18). Never written down."""
    here = inside(request, build)
    at = service(request)
    at.beats.beat(build, here.actor.person)
    if not at.database.sqlite:
        tell_beat(at.database, build, here.actor.person)
    return Response(Beaten(now_ms=at.now_ms()).model_dump_json(), media_type="application/json")
