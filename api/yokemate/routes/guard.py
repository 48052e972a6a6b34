"""Judged before any route: size, where a request comes from, and what every answer carries."""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from yokemate.routes.problems import answer_of, render
from yokemate.routes.service import Service

KIB = 1024
LIMIT_KIB = 2048
PHOTO_LIMIT_KIB = 12 * 1024
PHOTOS = ("image/jpeg", "image/png", "image/webp")
OUR_HEADER = "x-yokemate"
CSP = (
    "default-src 'self'; img-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": CSP,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class Guard:
    """The outermost layer of the app."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        photo = "/photos/" in scope["path"]
        limit_kib = PHOTO_LIMIT_KIB if photo else LIMIT_KIB
        headers = Headers(scope=scope)
        api = scope["path"].startswith("/api/")
        at: Service = scope["app"].state.service
        public = urlsplit(at.settings.public_url or "").netloc
        refused = self._refused(scope, headers, photo, public) if api else None
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > limit_kib * KIB:
            refused = ("too_big", {"limit_kib": limit_kib})
        if refused is not None:
            await self._answer(refused, scope, receive, self._dressed(send, api))
            return
        taken = 0

        async def counted() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > limit_kib * KIB:
                raise HTTPException(413, str(limit_kib))
            return message

        await self.app(scope, counted, self._dressed(send, api))

    def _refused(
        self, scope: Scope, headers: Headers, photo: bool, public: str
    ) -> tuple[str, dict[str, object]] | None:
        if scope["method"] in ("GET", "HEAD", "OPTIONS"):
            return None
        origin = headers.get("origin")
        # A proxy may pass on another host than the one phones see; then the public address is ours as well.
        ours = {headers.get("host", ""), public} - {""}
        elsewhere = origin is not None and urlsplit(origin).netloc not in ours
        if elsewhere or headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return ("from_elsewhere", {})
        if OUR_HEADER not in headers:
            return ("from_elsewhere", {})
        kind = headers.get("content-type", "").partition(";")[0].strip().lower()
        if photo:
            return None if kind in PHOTOS else ("not_json", {"wanted": "a photo (JPEG, PNG, WebP)"})
        return None if kind == "application/json" else ("not_json", {"wanted": "JSON"})

    async def _answer(
        self, refused: tuple[str, dict[str, object]], scope: Scope, receive: Receive, send: Send
    ) -> None:
        code, params = refused
        at: Service = scope["app"].state.service
        await answer_of(render(at, code, params))(scope, receive, send)

    def _dressed(self, send: Send, api: bool) -> Send:
        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                if api:
                    headers.setdefault("Cache-Control", "no-store")
            await send(message)

        return dressed
