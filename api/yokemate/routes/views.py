"""One GET per prepared answer, from the registry; kept as bytes, answered 304 while nothing can differ."""

from __future__ import annotations

import gzip
import hashlib
import inspect
import json
import re
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi import Path as PathParam
from pydantic import BaseModel
from pydantic_core import PydanticUndefined
from starlette.responses import Response

from yokemate import __version__
from yokemate.handle.facts import own_kg, suited
from yokemate.routes.doors import Inside, inside, not_your_role
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import Service, service
from yokemate.rules.frame import Facts
from yokemate.rules.views.frame import VIEWS, Viewer, ViewSpec
from yokemate.store import hours

KEPT_ANSWERS = 2000
WORTH_PACKING = 1400  # what fits one packet goes as it is
_FIELD = re.compile(r"{(\w+)}")


@dataclass(frozen=True)
class Kept:
    """An answer as bytes, good for this head, these facts, and until its window ends."""

    digest: str
    facts: Facts
    valid_until_ms: int | None
    etag: str
    body: bytes

    @cached_property
    def packed(self) -> bytes | None:
        """For a slow line, at the quickest level, where that saves something. Not where somebody's limit had a say: a length
        must not tell (R21).
        """
        if len(self.body) < WORTH_PACKING or self.facts.suits or self.facts.own_kg is not None:
            return None
        return gzip.compress(self.body, compresslevel=1, mtime=0)


class Answers:
    """The last answer per build, viewer, view and parameters."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, ...], Kept] = OrderedDict()
        self._lock = threading.Lock()

    def find(self, key: tuple[str, ...], digest: str, facts: Facts, now_ms: int) -> Kept | None:
        with self._lock:
            kept = self._kept.get(key)
            if kept is None or kept.digest != digest or kept.facts != facts:
                return None
            if kept.valid_until_ms is not None and now_ms >= kept.valid_until_ms:
                return None
            self._kept.move_to_end(key)
            return kept

    def put(self, key: tuple[str, ...], kept: Kept) -> None:
        with self._lock:
            self._kept[key] = kept
            self._kept.move_to_end(key)
            while len(self._kept) > KEPT_ANSWERS:
                self._kept.popitem(last=False)


def facts_for(at: Service, here: Inside, spec: ViewSpec, params: BaseModel) -> Facts:
    """What stands outside the ledger, for this viewer alone (R21)."""
    if spec.wants_hours:
        with at.database.read() as connection:
            said = hours.of_build(connection, here.build)
        return Facts(over_open_network=here.actor.open_network, hours=said)
    lift = getattr(params, "lift", None)
    if lift is None:
        return Facts(over_open_network=here.actor.open_network)
    with at.database.read() as connection:
        own = suited(connection, here.loaded.state, lift, only=here.member.id)
        bears = own_kg(connection, here.loaded.state, lift, here.member.id)
    return Facts(
        suits=own.suits,
        figure_unsaid=own.figure_unsaid,
        own_kg=bears,
        phones_alive=at.beats.alive(here.build),
        over_open_network=here.actor.open_network,
    )


@cache
def _shape(spec: ViewSpec) -> str:
    """Names the shape of an answer: what a phone keeps of an older one is not said to be unchanged."""
    text = json.dumps([__version__, spec.answer.model_json_schema()], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def prepare(at: Service, answers: Answers, spec: ViewSpec, here: Inside, params: BaseModel) -> Kept:
    facts = facts_for(at, here, spec, params)
    now_ms = at.now_ms()
    said = params.model_dump_json()
    key = (here.build, here.member.id, spec.name, said)
    digest = here.loaded.head.digest
    kept = answers.find(key, digest, facts, now_ms)
    if kept is not None:
        return kept
    view = spec.fn(here.loaded.state, Viewer(here.member.id, here.member.role, now_ms, facts), params)
    about = repr(
        (
            *key,
            _shape(spec),
            digest,
            sorted(facts.suits.items()),
            sorted(facts.figure_unsaid),
            facts.own_kg,
            sorted(facts.phones_alive),
            facts.hours,
            view.valid_until_ms,
        )
    )
    etag = f'"{hashlib.sha256(about.encode()).hexdigest()[:32]}"'
    body = view.model_dump_json().encode()
    kept = Kept(digest, facts, view.valid_until_ms, etag, body)
    answers.put(key, kept)
    return kept


def answer(request: Request, kept: Kept) -> Response:
    headers = {"ETag": kept.etag, "Cache-Control": "private, no-cache", "Vary": "Accept-Encoding"}
    asked = request.headers.get("if-none-match", "")
    if kept.etag in (one.strip().removeprefix("W/") for one in asked.split(",")):
        return Response(status_code=304, headers=headers)
    if "gzip" in request.headers.get("accept-encoding", "") and kept.packed is not None:
        headers["Content-Encoding"] = "gzip"
        return Response(kept.packed, headers=headers, media_type="application/json")
    return Response(kept.body, headers=headers, media_type="application/json")


def _endpoint(spec: ViewSpec, answers: Answers) -> Callable[..., Response]:
    def endpoint(request: Request, build: str, **said: Any) -> Response:
        here = inside(request, build)
        if here.member.role not in spec.who:
            raise not_your_role(here)
        return answer(request, prepare(service(request), answers, spec, here, spec.params(**said)))

    keyword = inspect.Parameter.KEYWORD_ONLY
    parameters = [
        inspect.Parameter("request", keyword, annotation=Request),
        inspect.Parameter("build", keyword, annotation=str),
    ]
    in_path = _FIELD.findall(spec.path)
    for name, field in spec.params.model_fields.items():
        annotation: Any = field.rebuild_annotation()
        if name in in_path:
            parameters.append(inspect.Parameter(name, keyword, annotation=Annotated[annotation, PathParam()]))
        else:
            default = ... if field.default is PydanticUndefined else field.default
            parameters.append(inspect.Parameter(name, keyword, default=Query(default), annotation=annotation))
    endpoint.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    endpoint.__name__ = f"view_{spec.name}".replace(".", "_")
    return endpoint


def router() -> APIRouter:
    made = APIRouter(prefix="/api/builds/{build}")
    answers = Answers()
    for spec in VIEWS.values():
        made.add_api_route(
            spec.path,
            _endpoint(spec, answers),
            methods=["GET"],
            tags=["views"],
            summary=spec.says,
            operation_id=f"view_{spec.name}".replace(".", "_"),
            response_class=Response,
            responses={
                200: {"model": spec.answer},
                304: {"description": "Nothing can differ from what you have."},
                **listed(*INSIDE, "role", "viewer", "unknown", "bad_input"),
            },
        )
    return made
