"""Calendar feeds (RFC 5545): an address per person and one for the crew, read without a cookie by calendar programs.

The address is the secret. It can be made anew, which ends the one before, and it tells no more than the plan of the
days: titles, times and first names.
"""

from __future__ import annotations

import hmac
from collections import Counter
from datetime import UTC, datetime
from typing import Literal

from fastapi import APIRouter, Request
from icalendar import Calendar, Event
from pydantic import BaseModel
from starlette.responses import Response

from yokemate import __version__
from yokemate.handle.names import short
from yokemate.routes.days import Nothing
from yokemate.routes.doors import Inside, inside, not_your_role
from yokemate.routes.invites import base_address
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import Service, service
from yokemate.rules.days_pieces import piece_is_due
from yokemate.rules.days_settled import LIFT_MIN, is_called
from yokemate.rules.frame import State
from yokemate.rules.lift_crew import unanswered
from yokemate.rules.presence import is_gone
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, DaysPlan, Lift, Member, Task
from yokemate.rules.rows.days import Block
from yokemate.store import feeds, people

router = APIRouter(prefix="/api", tags=["days"])
Whose = Literal["mine", "crew"]


class FeedAddress(BaseModel):
    """`address` null: there is none. Whoever has it reads it: give it to nobody else."""

    address: str | None


def _whose(here: Inside, whose: Whose) -> str:
    if whose == "mine":
        return here.member.id
    if here.member.role != "lead":
        raise not_your_role(here)
    return feeds.CREW


def _address(request: Request, build: str, whose: str, number: int | None) -> FeedAddress:
    if number is None:
        return FeedAddress(address=None)
    secret = feeds.secret_of(service(request).settings.secret, build, whose, number)
    return FeedAddress(address=f"{base_address(request)}/api/feeds/{build}/{whose}/{secret}.ics")


@router.get(
    "/builds/{build}/feeds/{whose}",
    operation_id="feed_address",
    responses=listed(*INSIDE, "role", "viewer", "bad_input"),
)
def feed_address(request: Request, build: str, whose: Whose) -> FeedAddress:
    """My calendar address, or the crew's for a lead."""
    here = inside(request, build)
    name = _whose(here, whose)
    with service(request).database.read() as connection:
        number = feeds.number_of(connection, build, name)
    return _address(request, build, name, number)


@router.post(
    "/builds/{build}/feeds/{whose}",
    operation_id="renew_feed",
    responses=listed(*INSIDE, "role", "viewer", "bad_input"),
)
def renew_feed(request: Request, build: str, whose: Whose, asked: Nothing) -> FeedAddress:
    """Make a calendar address, or a new one: the one before ends at once."""
    here = inside(request, build)
    name = _whose(here, whose)
    with service(request).database.write() as connection:
        number = feeds.renew(connection, build, name)
    return _address(request, build, name, number)


@router.post(
    "/builds/{build}/feeds/{whose}/end",
    operation_id="end_feed",
    responses=listed(*INSIDE, "role", "viewer", "bad_input"),
)
def end_feed(request: Request, build: str, whose: Whose, asked: Nothing) -> FeedAddress:
    """End a calendar address."""
    here = inside(request, build)
    name = _whose(here, whose)
    with service(request).database.write() as connection:
        feeds.end(connection, build, name)
    return FeedAddress(address=None)


@router.get(
    "/feeds/{build}/{whose}/{secret}.ics",
    operation_id="feed",
    response_class=Response,
    responses={
        200: {"description": "An iCalendar object (RFC 5545).", "content": {"text/calendar": {}}},
        **listed("not_found"),
    },
)
def feed(request: Request, build: str, whose: str, secret: str) -> Response:
    """The calendar itself. A wrong, ended or older address finds nothing."""
    at = service(request)
    with at.database.read() as connection:
        number = feeds.number_of(connection, build, whose)
    right = number is not None and hmac.compare_digest(
        feeds.secret_of(at.settings.secret, build, whose, number).encode(), secret.encode()
    )
    loaded = at.handler.states.current(build) if right else None
    member = loaded.state.find(Member, whose) if loaded else None
    gone = whose != feeds.CREW and is_gone(member, at.now_ms())
    if loaded is None or gone:
        raise Refused("not_found", path="that calendar address")
    body = _calendar(at, build, loaded.state, None if whose == feeds.CREW else whose)
    return Response(
        body, media_type="text/calendar; charset=utf-8", headers={"Cache-Control": "private, no-cache"}
    )


def _calendar(at: Service, build: str, state: State, person: str | None) -> bytes:
    row, plan = state.get(Build, "build"), state.find(DaysPlan, "days")
    with at.database.read() as connection:
        known = people.named(connection, [member.id for member in state.all(Member)])
    first = short({id: one.name for id, one in known.items()})
    calendar = Calendar()
    calendar.add("prodid", f"-//Yokemate//{__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add(
        "x-wr-calname", f"{row.name}: {'crew' if person is None else first.get(person, 'build days')}"
    )
    now_ms = at.now_ms()
    stamp = datetime.fromtimestamp(now_ms / 1000, UTC)
    lifts = [
        lift
        for lift in sorted(state.all(Lift), key=lambda lift: lift.id)
        if lift.when_ms and (is_called(lift) or lift.state == "landed")
    ]
    at_their_hour = {lift.task for lift in lifts if lift.task is not None}
    nth: Counter[str] = Counter()
    for block in plan.blocks if plan else []:
        piece = f"{block.task}{'-check' if block.check else ''}{f'-{block.step}' if block.step else ''}"
        name = piece if block.check else f"{piece}-{nth[piece]}"
        nth[piece] += not block.check
        task = state.find(Task, block.task)
        if task is None or (block.task in at_their_hour and not block.check):
            continue
        if block.from_ms > now_ms and not piece_is_due(state, task, block.check, block.step):
            continue
        if person is None or person in (*block.team, *block.joiners, *block.company):
            calendar.add_component(_block(f"{build}-{name}@yokemate", block, task, first, stamp, person))
    for lift in lifts:
        if person is None or _is_asked(state, lift, person):
            calendar.add_component(_lift(build, state, lift, first, stamp, person))
    return calendar.to_ical()


def _is_asked(state: State, lift: Lift, person: str) -> bool:
    """Who said that they come, and who has not answered; whoever can't come has it in the calendar no more."""
    return lift.answers.get(person) == "will_come" or person in unanswered(state, lift)


def _lift_ms(state: State, lift: Lift) -> int:
    """How long it takes by the plan of the days, else by the plan file."""
    plan = state.find(DaysPlan, "days")
    planned = [b for b in (plan.blocks if plan else []) if b.task == lift.task and not b.check]
    if planned:
        return planned[0].to_ms - planned[0].from_ms
    task = state.find(Task, lift.task) if lift.task else None
    return int((task.plan.minutes[1] if task else LIFT_MIN) * 60_000)


def _event(uid: str, summary: str, from_ms: int, to_ms: int, stamp: datetime) -> Event:
    """Moments in UTC: the calendar program shows them on its own clock, on both sides of a change of the clocks."""
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", stamp)
    event.add("dtstart", datetime.fromtimestamp(from_ms / 1000, UTC))
    event.add("dtend", datetime.fromtimestamp(to_ms / 1000, UTC))
    event.add("summary", summary)
    return event


def _block(
    uid: str, block: Block, task: Task, first: dict[str, str], stamp: datetime, person: str | None
) -> Event:
    """`uid`: by task and stretch, so that a new plan moves the event of the plan before it."""
    about = f"{task.id} {task.plan.title}"
    if block.check:
        about = f"{'Hold step' if block.step else 'Check'} of {about}"
    if person is not None and person in block.company:
        about = f"In the garage, so that nobody is alone: {about}"
    event = _event(uid, about, block.from_ms, block.to_ms, stamp)
    names = [first.get(who, "somebody") for who in (*block.team, *block.joiners)]
    event.add("description", "With " + ", ".join(names))
    return event


def _lift(
    build: str, state: State, lift: Lift, first: dict[str, str], stamp: datetime, person: str | None
) -> Event:
    """Confirmed for who said yes, for the crew when every place has somebody; else it is asked for."""
    from_ms = lift.when_ms or 0
    uid = f"{build}-lift-{lift.id}@yokemate"
    event = _event(uid, f"Lift: {lift.plan.title}", from_ms, from_ms + _lift_ms(state, lift), stamp)
    coming = [who for who, said in lift.answers.items() if said == "will_come"]
    event.add(
        "description",
        "Will be there: " + (", ".join(first.get(who, "somebody") for who in coming) or "nobody yet"),
    )
    sure = lift.state != "called" if person is None else person in coming
    event.add("status", "CONFIRMED" if sure else "TENTATIVE")
    return event
