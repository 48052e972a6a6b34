"""Whether the service answers at all."""

from __future__ import annotations

from fastapi import APIRouter, Request
from pydantic import BaseModel

from yokemate import __version__
from yokemate.routes.service import service
from yokemate.settings import Mode

router = APIRouter(prefix="/api", tags=["service"])


class Health(BaseModel):
    up: bool
    version: str
    mode: Mode
    now_ms: int


@router.get("/health", operation_id="health")
def health(request: Request) -> Health:
    """The service answers; its clock."""
    at = service(request)
    return Health(up=True, version=__version__, mode=at.settings.mode, now_ms=at.now_ms())
