"""The plan file: looked at without keeping anything, and loaded as a command in the ledger."""

from __future__ import annotations

import uuid
from typing import Annotated, Literal

from fastapi import APIRouter, Header, Request
from pydantic import BaseModel
from starlette.responses import Response

from yokemate.handle import Actor, Answer, Envelope
from yokemate.handle.shapes import CommandId, Milliseconds
from yokemate.planfile.check import check
from yokemate.planfile.findings import Finding as Found
from yokemate.planfile.model import Option, Plan
from yokemate.planfile.read import read
from yokemate.routes.commands import Seen, about, head_of
from yokemate.routes.doors import inside
from yokemate.routes.fields import PlanText, Taken
from yokemate.routes.problems import Outcome, outcome_answer
from yokemate.routes.refused import INSIDE, listed, refusals_of
from yokemate.routes.service import Service, service
from yokemate.rules.doubts import doubts
from yokemate.rules.frame import COMMANDS
from yokemate.rules.plan_figures import options_in_force
from yokemate.rules.refusals import Refused

router = APIRouter(prefix="/api", tags=["plan"])
LOAD = COMMANDS["plan.load"]


class PlanSent(Taken):
    """A plan file's text and the options it is looked at with."""

    text: PlanText
    options: dict[str, str] = {}


class PlanLoaded(PlanSent):
    """`seen`: head number of what was on the screen (or If-Match)."""

    id: CommandId | None = None
    device_ms: Milliseconds | None = None
    seen: Seen | None = None


class Finding(BaseModel):
    """One thing found. An *error* keeps the plan from being loaded; a *doubt* is shown and stops nobody."""

    level: Literal["error", "doubt"]
    code: str
    field: str
    says: str
    remedy: str
    source: str  # what judged a figure; empty where nothing had to be worked out
    line: int | None
    column: int | None


class PlanChecked(BaseModel):
    """`options`: what there is to choose. `name`: of the plan, where it could be read."""

    name: str | None
    findings: list[Finding]
    options: list[Option]


def _read(text: str, options: dict[str, str]) -> tuple[Plan | None, list[Found]]:
    """The plan, and everything found in it, with lines. With an error there is no plan to load."""
    reading = read(text)
    if reading.plan is None:
        return None, reading.findings
    chosen = options_in_force(reading.plan, options)
    told = [*check(reading.plan, chosen), *doubts(reading.plan, chosen)]
    found = [*reading.findings, *reading.located(told)]
    return reading.plan, sorted(found, key=lambda one: (one.line or 0, one.column or 0))


def read_plan(text: str, options: dict[str, str]) -> Plan:
    """The plan, or `plan_faulty` with every error by line: a plan that fails loads nothing (R24, R32)."""
    plan, found = _read(text, options)
    errors = [one for one in found if one.level == "error"]
    if errors or plan is None:
        said = [one.text() for one in errors]
        raise Refused("plan_faulty", count=len(errors), first=said[0], findings=said)
    return plan


def load_plan(
    at: Service,
    build: str,
    actor: Actor,
    plan: Plan,
    options: dict[str, str],
    *,
    seen: int | None,
    id: str | None = None,
    device_ms: int | None = None,
) -> Answer:
    body = {"plan": plan.model_dump(mode="json"), "options": options}
    new = Envelope(id=id or str(uuid.uuid4()), kind=LOAD.kind, device_ms=device_ms, seen=seen, body=body)
    return at.handler.handle(build, actor, new)


@router.post("/plan/check", operation_id="check_plan", responses=listed("bad_input", "malformed", "too_big"))
def check_plan(request: Request, sent: PlanSent) -> PlanChecked:
    """Look at a plan file: what is wrong in which line, and which options it has. Nothing is kept."""
    reading = read(sent.text)
    _plan, found = _read(sent.text, sent.options)
    return PlanChecked(
        name=reading.plan.name if reading.plan else None,
        options=reading.plan.options if reading.plan else [],
        findings=[
            Finding(
                level=one.level,
                code=one.code,
                field=one.field,
                says=one.says,
                remedy=one.remedy,
                source=one.source,
                line=one.line,
                column=one.column,
            )
            for one in found
        ],
    )


@router.post(
    "/builds/{build}/plan/check", operation_id="check_plan_of_build", responses=listed(*INSIDE, "bad_input")
)
def check_for_build(request: Request, build: str, sent: PlanSent) -> PlanChecked:
    """Look at a plan file before loading it into this build."""
    inside(request, build)
    return check_plan(request, sent)


@router.post(
    "/builds/{build}/plan",
    operation_id="plan_load",
    summary=LOAD.says,
    description=about(LOAD),
    responses={200: {"model": Outcome}, **refusals_of(LOAD)},
    response_class=Response,
)
def load(
    request: Request, build: str, sent: PlanLoaded, if_match: Annotated[str | None, Header()] = None
) -> Response:
    here = inside(request, build)
    at = service(request)
    seen = sent.seen if sent.seen is not None else head_of(if_match)
    plan = read_plan(sent.text, sent.options)
    answer = load_plan(
        at, build, here.actor, plan, sent.options, seen=seen, id=sent.id, device_ms=sent.device_ms
    )
    return outcome_answer(at, answer, here.actor.person, build)
