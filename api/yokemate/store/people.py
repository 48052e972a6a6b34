"""People and their devices: outside the ledger, which knows both by opaque ids only (R1, R21, R29)."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Any

from sqlalchemy import Connection as Connection  # the type that other rooms hand on
from sqlalchemy import func, select, text, update

from yokemate.store.tables import Device, Human, InviteCode, table

_PEOPLE = table(Human)
_DEVICES = table(Device)
_INVITES = table(InviteCode)
_FIRST = 0x796F6C31


def new_id(kind: str) -> str:
    """An id that says nothing but what kind of thing it names."""
    return f"{kind}-{secrets.token_hex(8)}"


def secret_digest(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


@dataclass(frozen=True)
class Person:
    """What the crew may know of somebody."""

    id: str
    name: str
    icon: str | None
    pin_set: bool


@dataclass(frozen=True)
class Private:
    """What only the person sees. `limit_kg`: decimal as typed."""

    limit_kg: str | None = None
    guideline_kg: int | None = None


@dataclass(frozen=True)
class Phone:
    """An enrolled device. `session_*`: who is signed in at the shared garage tablet, until when."""

    id: str
    person: str
    name: str | None
    shared: bool
    shut_out_ms: int | None
    last_seen_ms: int
    session_person: str | None
    session_until_ms: int | None


_PHONE = [_DEVICES.c[f.name] for f in fields(Phone)]


def add(
    connection: Connection,
    id: str,
    name: str,
    now_ms: int,
    *,
    pin_hash: str | None = None,
    icon: str | None = None,
    private: Private | None = None,
) -> None:
    kept = private or Private()
    connection.execute(
        _PEOPLE.insert().values(
            id=id,
            name=name,
            icon=icon,
            pin_hash=pin_hash,
            limit_kg=kept.limit_kg,
            guideline_kg=kept.guideline_kg,
            private_at_ms=now_ms,
            made_ms=now_ms,
        )
    )


def nobody_yet(connection: Connection) -> bool:
    return connection.execute(select(_PEOPLE.c.id).limit(1)).first() is None


def only_one_first(connection: Connection) -> None:
    """Of two who would be first at once, the second waits here (SQLite has one writer anyhow)."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _FIRST})


def named(connection: Connection, ids: Iterable[str]) -> dict[str, Person]:
    asked = select(_PEOPLE.c.id, _PEOPLE.c.name, _PEOPLE.c.icon, _PEOPLE.c.pin_hash.is_not(None)).where(
        _PEOPLE.c.id.in_(list(ids))
    )
    return {found[0]: Person(*found) for found in connection.execute(asked)}


def set_pin(connection: Connection, person: str, pin_hash: str) -> None:
    connection.execute(update(_PEOPLE).where(_PEOPLE.c.id == person).values(pin_hash=pin_hash))


def private(connection: Connection, person: str) -> Private:
    asked = select(_PEOPLE.c.limit_kg, _PEOPLE.c.guideline_kg).where(_PEOPLE.c.id == person)
    found = connection.execute(asked).first()
    return Private(*found) if found else Private()


def set_private(connection: Connection, person: str, kept: Private, now_ms: int) -> None:
    values: dict[str, Any] = {**kept.__dict__, "private_at_ms": now_ms}
    connection.execute(update(_PEOPLE).where(_PEOPLE.c.id == person).values(values))


@dataclass(frozen=True)
class Key:
    """What a device shows: its id and its secret, of which only a digest is kept."""

    device: str
    secret: str


def new_key() -> Key:
    return Key(new_id("device"), secrets.token_urlsafe(32))


def enrol(
    connection: Connection,
    key: Key,
    person: str,
    now_ms: int,
    name: str | None = None,
    origin: str | None = None,
) -> None:
    """A new device for somebody. `origin`: the address it was enrolled at, to which its browser binds what it keeps."""
    connection.execute(
        _DEVICES.insert().values(
            id=key.device,
            person=person,
            secret_digest=secret_digest(key.secret),
            name=name,
            shared=False,
            last_seen_ms=now_ms,
            made_ms=now_ms,
            origin=origin,
        )
    )


def phone(connection: Connection, id: str, secret: str) -> Phone | None:
    """The device that this id and secret belong to."""
    found = connection.execute(select(_DEVICES.c.secret_digest, *_PHONE).where(_DEVICES.c.id == id)).first()
    if found is None or not secrets.compare_digest(found[0], secret_digest(secret)):
        return None
    return Phone(*found[1:])


def phones(connection: Connection, person: str) -> list[Phone]:
    asked = select(*_PHONE).where(_DEVICES.c.person == person).order_by(_DEVICES.c.made_ms)
    return [Phone(*found) for found in connection.execute(asked)]


def phones_by_origin(connection: Connection) -> dict[str, int]:
    """How many phones were enrolled at which address; those shut out do not count."""
    asked = (
        select(_DEVICES.c.origin, func.count())
        .where(_DEVICES.c.origin.is_not(None), _DEVICES.c.shut_out_ms.is_(None))
        .group_by(_DEVICES.c.origin)
        .order_by(_DEVICES.c.origin)
    )
    return {found[0]: found[1] for found in connection.execute(asked)}


def phone_counts(connection: Connection, ids: Iterable[str]) -> dict[str, int]:
    asked = (
        select(_DEVICES.c.person, func.count())
        .where(
            _DEVICES.c.person.in_(list(ids)), _DEVICES.c.shut_out_ms.is_(None), _DEVICES.c.shared.is_(False)
        )
        .group_by(_DEVICES.c.person)
    )
    return {found[0]: found[1] for found in connection.execute(asked)}


def owner_of(connection: Connection, device: str) -> str | None:
    return connection.execute(select(_DEVICES.c.person).where(_DEVICES.c.id == device)).scalar()


def change_phone(connection: Connection, id: str, **values: Any) -> None:
    connection.execute(update(_DEVICES).where(_DEVICES.c.id == id).values(values))


def shut_out_all(connection: Connection, person: str, now_ms: int) -> None:
    mine = (_DEVICES.c.person == person) & _DEVICES.c.shut_out_ms.is_(None)
    connection.execute(update(_DEVICES).where(mine).values(shut_out_ms=now_ms))


@dataclass(frozen=True)
class Code:
    """What a code opens: an invite of a build, or (`person` set) another device for one of its members."""

    build: str
    invite: str
    until_ms: int
    used_ms: int | None = None
    person: str | None = None
    sets_pin: bool = False  # made at the machine for a lead who lost their phone


def new_code() -> str:
    """160 bits from the system."""
    return secrets.token_urlsafe(20)


def add_code(connection: Connection, code: str, opens: Code) -> None:
    connection.execute(_INVITES.insert().values(code_digest=secret_digest(code), **vars(opens)))


def code(connection: Connection, said: str) -> Code | None:
    columns = [_INVITES.c[f.name] for f in fields(Code)]
    asked = select(*columns).where(_INVITES.c.code_digest == secret_digest(said)).with_for_update()
    found = connection.execute(asked).first()
    return Code(*found) if found else None


def use_code(connection: Connection, said: str, now_ms: int) -> None:
    mine = _INVITES.c.code_digest == secret_digest(said)
    connection.execute(update(_INVITES).where(mine).values(used_ms=now_ms))
