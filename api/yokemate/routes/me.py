"""Who I am at this device, and what only I see: PIN, limit, phones."""

from __future__ import annotations

from fastapi import APIRouter, Request
from pydantic import BaseModel, Field

from yokemate.handle.shapes import Actor, CommandId, Kilograms, Milliseconds
from yokemate.handle.unsuited import Press, give_up_what_does_not_suit
from yokemate.routes.doors import inside, own_phone, person_at, phone
from yokemate.routes.fields import Guideline, Pin, Taken, good_pin
from yokemate.routes.invites import CodeMade, code_made
from yokemate.routes.refused import ALWAYS, listed
from yokemate.routes.service import Service, service
from yokemate.rules.frame import Role
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.lift_crew import in_a_lift
from yokemate.rules.presence import is_gone
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Member
from yokemate.settings import Mode
from yokemate.store import ledger, people
from yokemate.store.people import Code, Private
from yokemate.store.pins import Tried

router = APIRouter(prefix="/api", tags=["me"])
CODE_MS = 15 * 60_000
MINE = listed(*ALWAYS, "not_on_tablet", "bad_input")


class MyBuild(BaseModel):
    id: str
    name: str
    role: Role


class Me(BaseModel):
    """`person` null: nobody is known at this device. `first_run`: the service has no build yet."""

    person: str | None
    name: str | None
    device: str | None
    device_shared: bool
    mode: Mode
    first_run: bool
    builds: list[MyBuild]
    session_until_ms: int | None = None
    now_ms: int


class MyPrivate(Taken):
    """`limit_kg`: what I lift at most. `guideline_kg`: which published figure suits me. For me only (R21)."""

    limit_kg: Kilograms | None = None
    guideline_kg: Guideline | None = None


class LeavePress(Taken):
    """Id and time of one *Leave my place*, made on the phone."""

    id: CommandId
    device_ms: Milliseconds


class NewPrivate(MyPrivate):
    """`leave_as`: presses of *Leave my place* in the order made. Where a place no longer suits, one of them says so in
    the record as if it was pressed; send as many as you may hold places, the rest are not used."""

    leave_as: list[LeavePress] = Field(default=[], max_length=20)


class NewPin(Taken):
    old: Pin | None = None
    new: Pin


class MyDevice(BaseModel):
    device: str
    name: str | None
    shared: bool
    this_one: bool
    last_seen_ms: int
    shut_out: bool


class Done(BaseModel):
    """Nothing more to say."""

    done: bool = True


def builds_of(at: Service, person: str) -> list[MyBuild]:
    found: list[MyBuild] = []
    with at.database.read() as connection:
        ids = ledger.builds(connection)
    for id in ids:
        loaded = at.handler.states.current(id)
        member = loaded.state.find(Member, person) if loaded else None
        if loaded is None or member is None:
            continue
        if is_gone(member, at.now_ms()) and not in_a_lift(loaded.state, person, at.now_ms()):
            continue
        found.append(MyBuild(id=id, name=loaded.state.get(Build, "build").name, role=member.role))
    return found


def roles_of(at: Service, person: str) -> list[Role]:
    return [one.role for one in builds_of(at, person)]


def devices_of(at: Service, person: str, this: str | None) -> list[MyDevice]:
    with at.database.read() as connection:
        found = people.phones(connection, person)
    return [
        MyDevice(
            device=one.id,
            name=one.name,
            shared=one.shared,
            this_one=one.id == this,
            last_seen_ms=one.last_seen_ms,
            shut_out=one.shut_out_ms is not None,
        )
        for one in found
    ]


def refuse_pin(tried: Tried) -> None:
    """Raise what a PIN that was not right is answered."""
    if tried.is_ == "none_set":
        raise Refused("pin_not_set")
    if tried.is_ == "waits" or (tried.is_ == "wrong" and tried.left == 0):
        raise Refused("pin_waits", until_ms=tried.until_ms, ask_person=None)
    if tried.is_ == "wrong":
        raise Refused("pin_wrong", left=tried.left)


@router.get("/me", operation_id="me")
def me(request: Request) -> Me:
    """Who is at this device. Answers everybody; a device that nobody enrolled has no person."""
    at = service(request)
    found = phone(request)
    if found is not None and found.shut_out_ms is not None:
        found = None
    person = person_at(found, at.now_ms()) if found else None
    with at.database.read() as connection:
        known = people.named(connection, [person])[person] if person else None
        first_run = people.nobody_yet(connection)
    return Me(
        person=person,
        name=known.name if known else None,
        device=found.id if found else None,
        device_shared=bool(found and found.shared),
        mode=at.settings.mode,
        first_run=first_run,
        builds=builds_of(at, person) if person else [],
        now_ms=at.now_ms(),
        session_until_ms=found.session_until_ms if found and found.shared and person else None,
    )


@router.get("/me/private", operation_id="my_private", responses=MINE)
def my_private(request: Request) -> MyPrivate:
    """My limit and guideline figure. Nobody else can ask for them."""
    mine = own_phone(request)
    with service(request).database.read() as connection:
        kept = people.private(connection, mine.person)
    return MyPrivate.model_validate(vars(kept))


@router.put("/me/private", operation_id="set_my_private", responses=MINE)
def set_my_private(request: Request, private: NewPrivate) -> MyPrivate:
    """Set my limit and guideline figure; a place in a lift that they no longer suit is free again."""
    mine = own_phone(request)
    at = service(request)
    kept = Private(private.limit_kg, private.guideline_kg)
    with at.database.write() as connection:
        people.set_private(connection, mine.person, kept, at.now_ms())
    give_up_what_does_not_suit(
        at.handler,
        [build.id for build in builds_of(at, mine.person)],
        Actor(mine.person, mine.id, at.settings.open_network),
        [Press(one.id, one.device_ms) for one in private.leave_as],
    )
    return MyPrivate.model_validate(vars(kept))


@router.put(
    "/me/pin",
    operation_id="set_my_pin",
    responses={**MINE, **listed("pin_wrong", "pin_waits", "pin_too_short", "pin_needed")},
)
def set_my_pin(request: Request, change: NewPin) -> Done:
    """Set my PIN; the old one is asked where there is one."""
    mine = own_phone(request)
    at = service(request)
    roles = roles_of(at, mine.person)
    good_pin(change.new, "lead" if "lead" in roles else "helper")
    with at.database.read() as connection:
        pin_set = people.named(connection, [mine.person])[mine.person].pin_set
    if pin_set:
        if change.old is None:
            raise Refused("pin_needed")
        refuse_pin(at.handler.pins.try_(mine.person, mine.id, change.old, at.now_ms()))
    hashed = at.handler.pins.hashed(change.new)
    with at.database.write() as connection:
        people.set_pin(connection, mine.person, hashed)
    return Done()


@router.get("/me/devices", operation_id="my_devices", responses=MINE)
def my_devices(request: Request) -> list[MyDevice]:
    """My enrolled devices."""
    mine = own_phone(request)
    return devices_of(service(request), mine.person, mine.id)


@router.post("/me/devices", operation_id="add_my_device", responses=MINE)
def add_my_device(request: Request) -> CodeMade:
    """A code that enrols another device of mine, with my PIN. Works once, for a quarter of an hour."""
    mine = own_phone(request)
    at = service(request)
    builds = builds_of(at, mine.person)
    if not builds:
        raise Refused("not_a_member")
    return _device_code(request, builds[0].id, mine.person)


@router.post(
    "/builds/{build}/people/{person}/devices",
    operation_id="add_device_for",
    responses=listed(*ALWAYS, "role", "unknown"),
)
def add_device_for(request: Request, build: str, person: str) -> CodeMade:
    """A code that enrols another phone for somebody of the crew, who needs their own PIN for it: theirs was lost, or the
    service has another address now. Works once, for a quarter of an hour; the lead can't use it in their stead."""
    here = inside(request, build)
    if here.member.role != "lead" and here.member.id != person:
        raise Refused("role", role=here.member.role, ask_person=first_lead(here.loaded.state))
    if here.loaded.state.get(Member, person).left:
        raise Refused("not_a_member")
    return _device_code(request, build, person)


def _device_code(request: Request, build: str, person: str) -> CodeMade:
    at = service(request)
    code, until_ms = people.new_code(), at.now_ms() + CODE_MS
    with at.database.write() as connection:
        people.add_code(connection, code, Code(build, "", until_ms, person=person))
    return code_made(request, "", code, until_ms)


@router.get(
    "/builds/{build}/people/{person}/devices",
    operation_id="devices_of",
    responses=listed(*ALWAYS, "role", "unknown"),
)
def persons_devices(request: Request, build: str, person: str) -> list[MyDevice]:
    """Somebody's devices, for a lead (to shut a lost one out) and for themselves."""
    here = inside(request, build)
    here.loaded.state.get(Member, person)
    if here.member.role != "lead" and here.member.id != person:
        raise Refused("role", role=here.member.role, ask_person=first_lead(here.loaded.state))
    return devices_of(service(request), person, here.actor.device)
