"""Codes that let somebody in: made as QR and link, work once, for a limited time (R29)."""

from __future__ import annotations

from typing import Annotated

import segno
from fastapi import Request
from pydantic import BaseModel, Field

from yokemate.routes.service import service


class CodeMade(BaseModel):
    """Shown once: only a digest is kept. The address holds the code in its fragment, which no server logs."""

    invite: str
    code: str
    url: str
    qr_svg: Annotated[str, Field(description="the address as a QR drawing (SVG)")]
    until_ms: int


def code_made(request: Request, invite: str, code: str, until_ms: int) -> CodeMade:
    base = service(request).settings.public_url or str(request.base_url)
    url = f"{base.rstrip('/')}/join#{code}"
    drawn = segno.make(url, micro=False).svg_inline(omitsize=True, border=4, dark="#000", light="#fff")
    return CodeMade(invite=invite, code=code, url=url, qr_svg=drawn, until_ms=until_ms)
