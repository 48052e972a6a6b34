"""The web app's own files. Every address that is no file and no route of the service is the app itself."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter, Request
from starlette.convertors import PathConvertor, register_url_convertor
from starlette.responses import FileResponse, PlainTextResponse, Response

from yokemate.routes.service import service

router = APIRouter(include_in_schema=False)
FOR_EVER = "public, max-age=31536000, immutable"  # the name holds a hash of what is in it
ASK_AGAIN = "no-cache"
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
        return _sent(wanted, FOR_EVER if path.startswith("assets/") else ASK_AGAIN)
    if Path(path).suffix:
        return PlainTextResponse("There is no such file.\n", 404)
    index = folder / "index.html"
    if not index.is_file():
        return PlainTextResponse(NOT_BUILT, 503)
    return _sent(index, ASK_AGAIN)


def _sent(path: Path, kept: str) -> FileResponse:
    kinds = {".webmanifest": "application/manifest+json", ".js": "text/javascript"}
    return FileResponse(path, headers={"Cache-Control": kept}, media_type=kinds.get(path.suffix))
