"""The web app's own files. Every address that is no file and no route of the service is the app itself."""

from __future__ import annotations

import gzip
from functools import lru_cache
from pathlib import Path

from fastapi import APIRouter, Request
from starlette.convertors import PathConvertor, register_url_convertor
from starlette.responses import FileResponse, PlainTextResponse, Response

from yokemate.routes.service import service

router = APIRouter(include_in_schema=False)
FOR_EVER = "public, max-age=31536000, immutable"  # the name holds a hash of what is in it
ASK_AGAIN = "no-cache"
KINDS = {  # what is text, and worth compressing
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
}
NOT_BUILT = (
    "Yokemate is running, but its web app was not built.\n"
    "Install it again from its sources (see README), or fetch an installation that holds it.\n"
)


class Page(PathConvertor):
    """Any path but the service's own."""

    regex = "(?!api(?:/|$)).*"


register_url_convertor("page", Page())


@router.get("/{path:page}")
def file(request: Request, path: str) -> Response:
    folder = service(request).settings.web_folder.resolve()
    wanted = (folder / path).resolve()
    if path and wanted.is_file() and wanted.is_relative_to(folder) and not wanted.name.startswith("."):
        return _sent(request, wanted, FOR_EVER if path.startswith("assets/") else ASK_AGAIN)
    if Path(path).suffix:
        return PlainTextResponse("There is no such file.\n", 404)
    index = folder / "index.html"
    if not index.is_file():
        return PlainTextResponse(NOT_BUILT, 503)
    return _sent(request, index, ASK_AGAIN)


def _sent(request: Request, path: Path, kept: str) -> Response:
    headers, kind = {"Cache-Control": kept}, KINDS.get(path.suffix)
    if kind is None:
        return FileResponse(path, headers=headers)
    headers["Vary"] = "Accept-Encoding"
    if "gzip" not in request.headers.get("accept-encoding", ""):
        return FileResponse(path, headers=headers, media_type=kind)
    held = _packed(path, path.stat().st_mtime_ns)
    return Response(held, headers=headers | {"Content-Encoding": "gzip"}, media_type=kind)


@lru_cache(maxsize=512)
def _packed(path: Path, _mtime_ns: int) -> bytes:
    """A file's text compressed, once for each version of it: a phone's first load is a third as long."""
    return gzip.compress(path.read_bytes(), mtime=0)
