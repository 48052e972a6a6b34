"""Who is asking: the device's cookie, the person at it, and their place in a build (R29, R31)."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fastapi import Request
from starlette.responses import Response

from yokemate.handle import Actor
from yokemate.routes.service import Service, service
from yokemate.rules.gatekeeper import first_lead, need_member
from yokemate.rules.lift_crew import in_a_lift
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member
from yokemate.store import people
from yokemate.store.people import Key, Phone
from yokemate.store.states import Loaded

TABLET_MS = 60_000  # the garage tablet signs out after a minute
PLAIN_COOKIE_S = 12 * 3600
COOKIE_S = 400 * 24 * 3600
SEEN_EVERY_MS = 60_000


def cookie_name(at: Service) -> str:
    return "__Host-yokemate" if at.settings.mode == "https" else "yokemate-plain"


def give_cookie(at: Service, response: Response, key: Key) -> None:
    https = at.settings.mode == "https"
    response.set_cookie(
        cookie_name(at),
        f"{key.device}.{key.secret}",
        max_age=COOKIE_S if https else PLAIN_COOKIE_S,
        path="/",
        secure=https,
        httponly=True,
        samesite="strict",
    )


def take_cookie(at: Service, response: Response) -> None:
    https = at.settings.mode == "https"
    response.delete_cookie(cookie_name(at), path="/", secure=https, httponly=True, samesite="strict")


def origin_here(request: Request) -> str:
    """The address that the browser is at, as it binds what it keeps to it."""
    at = service(request)
    said = request.headers.get("origin") or f"{request.url.scheme}://{request.headers.get('host', '')}"
    if at.settings.mode == "https" and said.startswith("http://"):
        said = f"https://{said.removeprefix('http://')}"  # something before us speaks HTTPS
    return said.lower()[:300]


def phone(request: Request) -> Phone | None:
    """The enrolled device that sent this request, shut out or not."""
    at = service(request)
    device, dot, secret = request.cookies.get(cookie_name(at), "").partition(".")
    if not dot:
        return None
    with at.database.read() as connection:
        found = people.phone(connection, device, secret)
    if found is not None:
        request.state.person = person_at(found, at.now_ms())
        if found.shut_out_ms is None and at.now_ms() - found.last_seen_ms > SEEN_EVERY_MS:
            with at.database.write() as connection:
                people.change_phone(connection, found.id, last_seen_ms=at.now_ms())
    return found


def person_at(found: Phone, now_ms: int) -> str | None:
    """Whose phone it is, or who is signed in at the garage tablet."""
    if not found.shared:
        return found.person
    return found.session_person if (found.session_until_ms or 0) > now_ms else None


def enrolled(request: Request) -> Phone:
    found = phone(request)
    if found is None:
        raise Refused("unknown_device")
    if found.shut_out_ms is not None:
        raise Refused("shut_out")
    return found


def own_phone(request: Request) -> Phone:
    """For private things: never the garage tablet."""
    found = enrolled(request)
    if found.shared:
        raise Refused("not_on_tablet")
    return found


def actor(request: Request) -> Actor:
    at = service(request)
    found = _stopping(at, request) or enrolled(request)
    lifts = found.shared and _in_a_lift(at, request, found.session_person)
    person = found.session_person if lifts else person_at(found, at.now_ms())
    if person is None:
        raise Refused("signed_out")
    pressed = request.method != "GET" and not request.url.path.endswith(("/sync", "/beat"))
    if found.shared and (pressed or lifts):
        with at.database.write() as connection:
            people.change_phone(connection, found.id, session_until_ms=at.now_ms() + TABLET_MS)
    return Actor(person, found.id, at.settings.open_network)


def _stopping(at: Service, request: Request) -> Phone | None:
    """A phone that was shut out is let through with one thing: the STOP of whoever stands at that load (R19).

    Nobody can tell whether it was lost or is in their hand. A STOP too many costs a roll call; it reads nothing (R31).
    """
    if request.method != "POST" or not request.url.path.endswith("/stop"):
        return None
    found = phone(request)
    if found is None or found.shut_out_ms is None:
        return None
    whose = found.session_person if found.shared else found.person
    return found if _in_a_lift(at, request, whose) else None


def _in_a_lift(at: Service, request: Request, person: str | None) -> bool:
    """Nobody presses anything with their hands at a load: the tablet that shows them STOP keeps them signed in (R19)."""
    build = request.path_params.get("build")
    loaded = at.handler.states.current(build) if build and person else None
    return loaded is not None and in_a_lift(loaded.state, person, at.now_ms())


@dataclass(frozen=True)
class Inside:
    """A member in their build."""

    actor: Actor
    build: str
    loaded: Loaded
    member: Member


def not_your_role(here: Inside) -> Refused:
    """What this member's role does not allow (R30), and whom to ask."""
    code = "viewer" if here.member.role == "viewer" else "role"
    return Refused(code, role=here.member.role, ask_person=first_lead(here.loaded.state))


def inside(request: Request, build: str) -> Inside:
    """Who is no member learns nothing, not even that the build is there."""
    who = actor(request)
    at = service(request)
    loaded = at.handler.states.current(build)
    member = loaded.state.find(Member, who.person) if loaded else None
    if loaded is None or member is None:
        raise Refused("no_such_build", build=build)
    if not in_a_lift(
        loaded.state, member.id, at.now_ms()
    ):  # who holds a load keeps the screen that stops it (R19)
        need_member(loaded.state, member, at.now_ms())
    return Inside(who, build, loaded, member)


def again(here: Inside, at: Service) -> Inside:
    """The same member at the head as it is now."""
    loaded = at.handler.states.current(here.build)
    assert loaded is not None
    return replace(here, loaded=loaded, member=loaded.state.get(Member, here.member.id))
