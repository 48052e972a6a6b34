"""Getting in: the first lead, another build, an invite made, looked at and used."""

from __future__ import annotations

import uuid

from fastapi import APIRouter, Request
from pydantic import BaseModel
from starlette.responses import Response

from yokemate.handle import Actor, Answer, Envelope
from yokemate.handle.names import need_free
from yokemate.handle.path import Also, Work
from yokemate.handle.shapes import Kilograms
from yokemate.routes.commands import Sent, body_model, envelope_of
from yokemate.routes.doors import give_cookie, inside, origin_here, own_phone
from yokemate.routes.fields import (
    BuildName,
    Code,
    Guideline,
    Icon,
    Name,
    Pin,
    PlanText,
    Taken,
    TimeZone,
    Units,
    good_pin,
)
from yokemate.routes.invites import CodeMade, code_made
from yokemate.routes.me import builds_of, refuse_pin, roles_of
from yokemate.routes.plan import load_plan, read_plan
from yokemate.routes.problems import outcome_answer
from yokemate.routes.refused import ALWAYS, listed, refusals_of
from yokemate.routes.service import Service, service
from yokemate.rules.frame import COMMANDS
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Invite
from yokemate.settings import Mode
from yokemate.store import ledger, people
from yokemate.store.engine import Connection
from yokemate.store.people import Code as Opens
from yokemate.store.people import Private

router = APIRouter(prefix="/api", tags=["joining"])
INVITE = COMMANDS["crew.invite"]


class NewBuild(Taken):
    """A build, empty or with a plan file and its options."""

    build_name: BuildName
    units: Units = "metric"
    time_zone: TimeZone = "UTC"
    plan_text: PlanText | None = None
    options: dict[str, str] = {}


class FirstRun(NewBuild):
    """The first build of an empty service, and its lead."""

    name: Name
    pin: Pin


class Made(BaseModel):
    build: str
    person: str


class LookAt(Taken):
    code: Code


class Offer(BaseModel):
    """What an invite offers. `device_only`: it enrols another device for somebody who belongs already; `sets_pin`: with
    another PIN, which it was made for at the machine; `lifts`: they may have a place in a lift one day, so that what they
    lift at most is asked."""

    build: str
    by: str
    role: str
    mode: Mode
    device_only: bool = False
    sets_pin: bool = False
    lifts: bool = False


class Join(Taken):
    """`limit_kg` and `guideline_kg` are seen by nobody else, ever (R21)."""

    code: Code
    name: Name
    pin: Pin
    icon: Icon | None = None
    guideline_kg: Guideline | None = None
    limit_kg: Kilograms | None = None


def command(kind: str, **body: object) -> Envelope:
    return Envelope(id=str(uuid.uuid4()), kind=kind, body=body)


def accepted(answer: Answer) -> Answer:
    """For commands inside a longer act: a refusal ends it."""
    if answer.code:
        raise Refused(answer.code, **answer.params)
    return answer


def _make(at: Service, actor: Actor, new: NewBuild, before: Also) -> str:
    """Read the plan first, so that a faulty one makes nothing; then the build, then load it."""
    plan = read_plan(new.plan_text, new.options) if new.plan_text else None
    build = people.new_id("build")

    def first(connection: Connection) -> None:
        before(connection)
        ledger.found_build(connection, build, at.now_ms())

    fields = {"name": new.build_name, "units": new.units, "time_zone": new.time_zone}
    made = accepted(at.handler.handle(build, actor, command("build.make", **fields), first=first))
    if plan is not None:
        accepted(load_plan(at, build, actor, plan, new.options, seen=made.head))
    return build


@router.post(
    "/first-run",
    operation_id="first_run",
    responses=listed(*ALWAYS, "not_first", "pin_too_short", "plan_faulty", "bad_input"),
)
def first_run(request: Request, response: Response, new: FirstRun) -> Made:
    """Make the first build of an empty service; who does it is its lead and gets this device enrolled."""
    at = service(request)
    good_pin(new.pin, "lead")
    with at.database.read() as connection:
        if not people.nobody_yet(connection):
            raise Refused("not_first")
    hashed = at.handler.pins.hashed(new.pin)
    person, key, now_ms = people.new_id("person"), people.new_key(), at.now_ms()

    def before(connection: Connection) -> None:
        people.only_one_first(connection)
        if not people.nobody_yet(connection):
            raise Refused("not_first")
        people.add(connection, person, new.name, now_ms, pin_hash=hashed)
        people.enrol(connection, key, person, now_ms, origin=origin_here(request))

    build = _make(at, Actor(person, key.device, at.settings.open_network), new, before)
    give_cookie(at, response, key)
    return Made(build=build, person=person)


@router.post(
    "/builds",
    operation_id="make_build",
    responses=listed(*ALWAYS, "not_on_tablet", "not_a_member", "plan_faulty", "bad_input"),
)
def make_build(request: Request, new: NewBuild) -> Made:
    """Make another build, as its lead."""
    mine = own_phone(request)
    at = service(request)
    if not builds_of(at, mine.person):
        raise Refused("not_a_member")
    build = _make(at, Actor(mine.person, mine.id, at.settings.open_network), new, lambda connection: None)
    return Made(build=build, person=mine.person)


class InviteSent(Sent):
    body: body_model(INVITE)  # type: ignore[valid-type]


@router.post(
    "/builds/{build}/invites",
    operation_id="crew_invite",
    summary=INVITE.says,
    responses={200: {"model": CodeMade}, **refusals_of(INVITE), **listed("shown_once")},
    response_class=Response,
)
def invite(request: Request, build: str, sent: InviteSent) -> Response:
    """Invite somebody in a role. The code is shown once; it works once, for a limited time."""
    here = inside(request, build)
    at = service(request)
    fields = sent.body.model_dump(mode="json", exclude_unset=True)
    code = people.new_code()
    until_ms = at.now_ms() + int(fields.get("valid_minutes", 60)) * 60_000
    new = envelope_of(INVITE.kind, sent, fields)
    kept: list[bool] = []

    def also(connection: Connection) -> None:
        people.add_code(connection, code, Opens(build, fields["invite"], until_ms))
        kept.append(True)

    answer = at.handler.handle(build, here.actor, new, sent.pin, also=also)
    if answer.code:
        return outcome_answer(at, answer, here.actor.person, build)
    if not kept:
        raise Refused("shown_once")
    said = code_made(request, fields["invite"], code, until_ms)
    return Response(said.model_dump_json(), media_type="application/json")


def _opens(request: Request, code: str) -> Opens:
    """What a code opens, if it still does."""
    at = service(request)
    with at.database.read() as connection:
        found = people.code(connection, code)
    if found is None:
        raise Refused("no_such_invite")
    request.state.build = found.build  # whose clock a refusal names times by
    loaded = at.handler.states.current(found.build)
    row = loaded.state.find(Invite, found.invite) if loaded else None
    ask = row.made_by if row else found.person
    if found.used_ms is not None or (row and row.used_by):
        raise Refused("invite_used", ask_person=ask)
    if at.now_ms() >= found.until_ms:
        raise Refused("invite_over", until_ms=found.until_ms, ask_person=ask)
    return found


CODE_REFUSALS = (
    "no_such_invite",
    "invite_used",
    "invite_over",
    "bad_input",
    "from_elsewhere",
    "malformed",
    "too_big",
)


@router.post("/invites/look", operation_id="look_at_invite", responses=listed(*CODE_REFUSALS))
def look(request: Request, look: LookAt) -> Offer:
    """What an invite offers, before joining."""
    at = service(request)
    opens = _opens(request, look.code)
    loaded = at.handler.states.current(opens.build)
    assert loaded is not None
    row = loaded.state.find(Invite, opens.invite)
    by = row.made_by if row else opens.person or ""
    with at.database.read() as connection:
        inviter = people.named(connection, [by]).get(by)
    return Offer(
        build=loaded.state.get(Build, "build").name,
        by=inviter.name.split()[0] if inviter else "the lead",
        role=row.role if row else "yourself",
        mode=at.settings.mode,
        device_only=opens.person is not None,
        sets_pin=opens.sets_pin,
        lifts=row is not None and row.minor is None and row.role != "viewer",
    )


@router.post(
    "/join",
    operation_id="join",
    responses=listed(
        *CODE_REFUSALS, "already_member", "name_taken", "pin_too_short", "pin_wrong", "pin_waits"
    ),
)
def join(request: Request, response: Response, asked: Join) -> Made:
    """Join by an invite: enrols this device. A code for another device of one's own wants one's own PIN."""
    at = service(request)
    opens = _opens(request, asked.code)
    if opens.person is not None:
        return _another_device(at, response, opens, asked, origin_here(request))
    loaded = at.handler.states.current(opens.build)
    assert loaded is not None
    row = loaded.state.get(Invite, opens.invite)
    good_pin(asked.pin, row.role)
    hashed = at.handler.pins.hashed(asked.pin)
    person, key, now_ms = people.new_id("person"), people.new_key(), at.now_ms()
    private = Private(limit_kg=asked.limit_kg, guideline_kg=asked.guideline_kg)

    def first(connection: Connection) -> None:
        _use(connection, asked.code, now_ms)
        state = at.handler.locked(Work(connection), opens.build).state
        need_free(connection, state, asked.name, now_ms)
        people.add(connection, person, asked.name, now_ms, pin_hash=hashed, icon=asked.icon, private=private)
        people.enrol(connection, key, person, now_ms, origin=origin_here(request))

    actor = Actor(person, key.device, at.settings.open_network)
    accepted(at.handler.handle(opens.build, actor, command("crew.join", invite=opens.invite), first=first))
    give_cookie(at, response, key)
    return Made(build=opens.build, person=person)


def _use(connection: Connection, code: str, now_ms: int) -> None:
    """Of two who scan the same code at once exactly one gets in."""
    found = people.code(connection, code)
    if found is None or found.used_ms is not None:
        raise Refused("invite_used", ask_person=None)
    people.use_code(connection, code, now_ms)


def _another_device(at: Service, response: Response, opens: Opens, asked: Join, origin: str) -> Made:
    person, now_ms = opens.person, at.now_ms()
    assert person is not None
    key = people.new_key()
    hashed: str | None = None
    if opens.sets_pin:
        good_pin(asked.pin, "lead" if "lead" in roles_of(at, person) else "helper")
        hashed = at.handler.pins.hashed(asked.pin)
    else:
        refuse_pin(at.handler.pins.try_(person, "another device", asked.pin, now_ms))
    with at.database.write() as connection:
        _use(connection, asked.code, now_ms)
        people.enrol(connection, key, person, now_ms, origin=origin)
        if hashed is not None:
            people.set_pin(connection, person, hashed)
    give_cookie(at, response, key)
    return Made(build=opens.build, person=person)
