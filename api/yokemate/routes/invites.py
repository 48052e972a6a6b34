"""Codes that let somebody in: made as QR and link, work once, for a limited time (R29)."""

from __future__ import annotations

from typing import Annotated

import segno
from fastapi import Request
from pydantic import BaseModel, Field

from yokemate.routes.service import service

LOOPBACK = ("localhost", "127.0.0.1", "::1")


class CodeMade(BaseModel):
    """Shown once: only a digest is kept. The address holds the code in its fragment, which no server logs."""

    invite: str
    code: str
    url: str
    qr_svg: Annotated[str, Field(description="the address as a QR drawing (SVG)")]
    until_ms: int


def code_made(request: Request, invite: str, code: str, until_ms: int) -> CodeMade:
    url = f"{base_address(request)}/join#{code}"
    return CodeMade(invite=invite, code=code, url=url, qr_svg=drawn(url), until_ms=until_ms)


def drawn(url: str) -> str:
    """An address as a QR drawing, with its quiet zone."""
    return segno.make(url, micro=False).svg_inline(omitsize=True, border=4, dark="#000", light="#fff")


def base_address(request: Request) -> str:
    """Where the asking browser is, unless that is this machine itself, where no phone would get."""
    at = service(request)
    if at.settings.public_url:
        return at.settings.public_url.rstrip("/")
    if request.url.hostname in LOOPBACK and at.reach.addresses:
        return at.reach.addresses[0].rstrip("/")
    return str(request.base_url).rstrip("/")
