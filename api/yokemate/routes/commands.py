"""One documented route per command, made from the registry; the same path as a phone's outbox."""

from __future__ import annotations

import inspect
import re
import uuid
from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Header, Request
from fastapi import Path as PathParam
from pydantic import BaseModel, ConfigDict, Field, create_model
from starlette.responses import Response

from yokemate.handle import Envelope
from yokemate.handle.batch import NOT_BY_HAND
from yokemate.handle.shapes import EXACT, CommandId, Milliseconds, PersonId
from yokemate.routes.doors import inside
from yokemate.routes.problems import Outcome, outcome_answer
from yokemate.routes.refused import refusals_of
from yokemate.routes.service import service
from yokemate.rules.frame import COMMANDS, CommandSpec
from yokemate.rules.refusals import Refused

OWN_ROUTES = NOT_BY_HAND | {"crew.invite", "plan.load"}  # these answer or take more than the command itself
Pin = Annotated[
    str, Field(min_length=1, max_length=128, description="travels beside the command, is never kept")
]
Seen = Annotated[
    int, Field(ge=0, le=EXACT, description="head number of what was on the screen (or If-Match)")
]
_FIELD = re.compile(r"{(\w+)}")


class Sent(BaseModel):
    """What surrounds a command's own fields."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    id: CommandId | None = None
    device_ms: Milliseconds | None = None
    seen: Seen | None = None
    for_person: PersonId | None = None
    pin: Pin | None = None


def path_fields(spec: CommandSpec) -> list[str]:
    return _FIELD.findall(spec.path)


def body_model(spec: CommandSpec) -> type[BaseModel]:
    """The fields of a command that its path does not hold."""
    fields: dict[str, Any] = {
        name: (field.rebuild_annotation(), field)
        for name, field in spec.model.model_fields.items()
        if name not in path_fields(spec)
    }
    name = f"{spec.model.__name__}Fields"
    return create_model(name, __config__=ConfigDict(extra="forbid", frozen=True), __doc__=spec.says, **fields)


def sent_model(spec: CommandSpec) -> type[BaseModel]:
    fields = body_model(spec)
    needed = any(field.is_required() for field in fields.model_fields.values())
    body: Any = (fields, ...) if needed else (fields, fields())
    return create_model(f"{spec.model.__name__}Sent", __base__=Sent, __doc__=spec.says, body=body)


def head_of(if_match: str | None) -> int | None:
    """`If-Match: "123"` says the same as `seen`."""
    if if_match is None:
        return None
    digits = if_match.strip().removeprefix("W/").strip('"')
    if not digits.isdigit() or len(digits) > 15:
        raise Refused("bad_input", field="If-Match", problem="is no head number.", remedy='Send it as "123".')
    return int(digits)


def envelope_of(kind: str, sent: Any, fields: dict[str, Any], if_match: str | None = None) -> Envelope:
    seen = sent.seen if sent.seen is not None else head_of(if_match)
    return Envelope(
        id=sent.id or str(uuid.uuid4()),
        kind=kind,
        device_ms=sent.device_ms,
        seen=seen,
        for_person=sent.for_person,
        body=fields,
    )


def _endpoint(spec: CommandSpec) -> Callable[..., Response]:
    named = path_fields(spec)
    model = sent_model(spec)

    def endpoint(request: Request, build: str, sent: Any, if_match: str | None, **path: str) -> Response:
        here = inside(request, build)
        fields = {**sent.body.model_dump(mode="json", exclude_unset=True), **path}
        at = service(request)
        envelope = envelope_of(spec.kind, sent, fields, if_match)
        answer = at.handler.handle(build, here.actor, envelope, sent.pin)
        if spec.kind == "crew.shut_out" and answer.status == "accepted":
            at.hub.cut(fields["device"])
        return outcome_answer(at, answer, here.actor.person, build)

    keyword = inspect.Parameter.KEYWORD_ONLY
    whole: Any = model
    if not model.model_fields["body"].is_required():
        whole = Annotated[model, Field(default_factory=model)]
    parameters = [
        inspect.Parameter("request", keyword, annotation=Request),
        inspect.Parameter("build", keyword, annotation=str),
        *(
            inspect.Parameter(name, keyword, annotation=Annotated[str, PathParam(max_length=80)])
            for name in named
        ),
        inspect.Parameter("sent", keyword, annotation=whole),
        inspect.Parameter(
            "if_match",
            keyword,
            default=None,
            annotation=Annotated[str | None, Header(description="head number: the same as `seen`")],
        ),
    ]
    endpoint.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    endpoint.__name__ = spec.kind.replace(".", "_")
    return endpoint


def about(spec: CommandSpec) -> str:
    """Who may, how it is sent and what it needs, for the REST document."""
    who = ", ".join(sorted(spec.who)) + (", a deputy for the day" if spec.deputy else "")
    kind = {
        "kept": "may wait on a phone",
        "now": "sent at once, never queued",
        "stop": "ahead of everything that waits",
    }[spec.sent]
    act = "may be refused, and then changes nothing" if spec.act == "ask" else "a report: it has happened"
    needs = [*(["PIN"] if spec.pin else []), *(["`seen` (or If-Match)"] if spec.needs_seen else [])]
    lines = [spec.says, f"Who: {who}. {act.capitalize()}; {kind}."]
    return "\n\n".join([*lines, *([f"Needs {' and '.join(needs)}."] if needs else [])])


def router() -> APIRouter:
    made = APIRouter(prefix="/api/builds/{build}")
    for spec in COMMANDS.values():
        if spec.kind in OWN_ROUTES:
            continue
        made.add_api_route(
            spec.path,
            _endpoint(spec),
            methods=["POST"],
            tags=[spec.kind.split(".")[0]],
            operation_id=spec.kind.replace(".", "_"),
            summary=spec.says,
            description=about(spec),
            responses={200: {"model": Outcome}, **refusals_of(spec)},
            response_class=Response,
        )
    return made
