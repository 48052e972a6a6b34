"""A refusal becomes an answer here: RFC 9457, with names and local times put in for its reader."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.responses import Response

from yokemate.handle import Answer, OtherBody, RuleFault
from yokemate.handle.faults import fault_words
from yokemate.handle.names import short
from yokemate.routes.service import Service, service
from yokemate.rules.refusals import REFUSALS, Refused
from yokemate.rules.rows import Build, Member
from yokemate.store import people

PROBLEM = "application/problem+json"
LEAD = "the lead"
SOMEBODY = "somebody"


class Problem(BaseModel):
    """RFC 9457 problem details, with the rule behind it and the way on."""

    type: str
    title: str
    status: int
    detail: str
    code: str
    rule: str
    way_on: str
    params: dict[str, Any]
    field: str | None = None


class Outcome(BaseModel):
    """What became of a command. Asking again under the same id gets the same outcome."""

    id: str
    status: Literal["accepted", "refused", "kept_as_evidence"]
    entries: tuple[int, int] | None = None
    head: int
    problem: Problem | None = None
    notes: list[str] = []


class _Words(dict[str, Any]):
    def __missing__(self, key: str) -> str:
        return "…"


def render(
    at: Service, code: str, params: Mapping[str, Any], *, viewer: str | None = None, build: str | None = None
) -> Problem:
    """The problem as one person reads it: others as short as they can be told apart, times by the build's clock."""
    refusal = REFUSALS[code]
    words = _Words(_readable(at, params, viewer, build))
    says = refusal.says.format_map(words)
    return Problem(
        type=f"urn:yokemate:refusal:{code}",
        title=code.replace("_", " ").capitalize(),
        status=refusal.status,
        detail=says[:1].upper() + says[1:],
        code=code,
        rule=refusal.rule,
        way_on=refusal.way_on.format_map(words),
        params=dict(params),
        field=params.get("field"),
    )


def _readable(
    at: Service, params: Mapping[str, Any], viewer: str | None, build: str | None
) -> dict[str, Any]:
    wanted: set[str] = set()
    for name, value in params.items():
        if name.endswith("person") and isinstance(value, str):
            wanted.add(value)
        elif name.endswith("people") and isinstance(value, list | tuple):
            wanted.update(value)
    names = _short_names(at, wanted, build) if wanted else {}

    def name_of(person: str | None) -> str:
        if person is None:
            return LEAD
        if person == viewer:
            return "you"
        return names.get(person, SOMEBODY)

    said: dict[str, Any] = {}
    for name, value in params.items():
        if name.endswith("person"):
            said[name] = name_of(value)
        elif name.endswith("people"):
            said[name] = _listed([name_of(one) for one in value or []]) or LEAD
        elif name.endswith("_ms") and isinstance(value, int):
            said[name] = _local(at, value, build)
        elif name == "field" and isinstance(value, str):
            said[name] = value.removesuffix("_text").replace("_", " ").replace(".", " ")
        elif isinstance(value, list | tuple):
            said[name] = _listed([str(one) for one in value])
        else:
            said[name] = value
    return said


def _short_names(at: Service, wanted: set[str], build: str | None) -> dict[str, str]:
    """As short as the crew can tell them apart."""
    loaded = at.handler.states.current(build) if build else None
    crew = {member.id for member in loaded.state.all(Member)} if loaded else set()
    with at.database.read() as connection:
        known = people.named(connection, crew | wanted)
    return short({id: one.name for id, one in known.items()})


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _local(at: Service, moment_ms: int, build: str | None) -> str:
    """14:06 where the build is; with the date when it is another day."""
    loaded = at.handler.states.current(build) if build else None
    row = loaded.state.find(Build, "build") if loaded else None
    try:
        zone = ZoneInfo(row.time_zone) if row else UTC
    except (ZoneInfoNotFoundError, ValueError):
        zone = UTC
    moment = datetime.fromtimestamp(moment_ms / 1000, zone)
    today = datetime.fromtimestamp(at.now_ms() / 1000, zone)
    clock = f"{moment:%H:%M}" + (" UTC" if zone is UTC else "")
    return clock if moment.date() == today.date() else f"{moment:%d %b} {clock}"


def answer_of(problem: Problem) -> Response:
    return Response(problem.model_dump_json(), problem.status, media_type=PROBLEM)


def outcome_of(at: Service, answer: Answer, viewer: str, build: str, head: int = 0) -> Outcome:
    problem = render(at, answer.code, answer.params, viewer=viewer, build=build) if answer.code else None
    if answer.status == "kept_as_evidence":
        problem = None
    return Outcome(
        id=answer.id,
        status=answer.status,
        entries=answer.entries,
        head=answer.head or head,
        problem=problem,
        notes=answer.notes,
    )


def outcome_answer(at: Service, answer: Answer, viewer: str, build: str) -> Response:
    """One command's outcome as an answer of its own: a refusal answers with its own status."""
    outcome = outcome_of(at, answer, viewer, build)
    if outcome.problem is not None:
        return answer_of(outcome.problem)
    return Response(outcome.model_dump_json(), media_type="application/json")


def _refused(request: Request, code: str, **params: Any) -> Response:
    at = service(request)
    viewer = getattr(request.state, "person", None)
    build = request.path_params.get("build") or getattr(request.state, "build", None)
    return answer_of(render(at, code, params, viewer=viewer, build=build))


def install(app: FastAPI) -> None:
    """Every way in which a request can fail answers with a problem."""

    def on(what: type[Exception]) -> Callable[[Callable[[Request, Any], Response]], None]:
        return lambda answer: app.add_exception_handler(what, answer)

    @on(Refused)
    def refused(request: Request, why: Refused) -> Response:
        return _refused(request, why.code, **why.params)

    @on(OtherBody)
    def other_body(request: Request, why: OtherBody) -> Response:
        return _refused(request, "same_id")

    @on(RequestValidationError)
    def bad_input(request: Request, why: RequestValidationError) -> Response:
        found = why.errors()[0]
        where = [str(part) for part in found["loc"] if part not in ("body", "query", "path")]
        if found["type"] in ("json_invalid", "json_type"):
            return _refused(
                request, "malformed", problem=str(found.get("ctx", {}).get("error", found["msg"]))
            )
        problem, remedy = fault_words(found)
        field = ".".join(where) or "body"
        return _refused(request, "bad_input", field=field, problem=problem, remedy=remedy)

    @on(HTTPException)
    def http(request: Request, why: HTTPException) -> Response:
        if why.status_code == 405:
            return _refused(request, "no_method", method=request.method, path=request.url.path)
        if why.status_code == 404:
            return _refused(request, "not_found", path=request.url.path)
        if why.status_code == 413:
            return _refused(request, "too_big", limit_kib=why.detail)
        if why.status_code == 400:
            return _refused(request, "malformed", problem=str(why.detail))
        raise why

    @on(RuleFault)
    def fault(request: Request, why: RuleFault) -> Response:
        return _refused(request, "fault")

    @on(Exception)
    def broken(request: Request, why: Exception) -> Response:
        # The database itself may be what broke, so nothing is looked up for this answer.
        refusal = REFUSALS["fault"]
        said = {
            "type": "urn:yokemate:refusal:fault",
            "title": "Fault",
            "status": refusal.status,
            "detail": refusal.says,
            "code": "fault",
            "rule": refusal.rule,
            "way_on": refusal.way_on,
            "params": {},
            "field": None,
        }
        return Response(json.dumps(said), refusal.status, media_type=PROBLEM)
