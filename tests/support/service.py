"""A service for tests: a database of its own, a clock that tests move, people with phones."""

from __future__ import annotations

import shutil
import uuid
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from yokemate import handle
from yokemate.handle import Actor, Answer, Envelope, Handler
from yokemate.store import ledger, people
from yokemate.store.engine import Database
from yokemate.store.migrate import migrate

from .postgres import PostgresServer

SECRET = bytes(range(32))
START_MS = 1_764_000_000_000
BUILD = "quillback"
CHEAP_KIB = 64  # Argon2's memory in tests; the service's own figure is asserted where PINs are tested
ENGINES = ["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)]


@dataclass
class Clock:
    now_ms: int = START_MS

    def __call__(self) -> int:
        return self.now_ms

    def wait(self, seconds: float) -> None:
        self.now_ms += int(seconds * 1000)


def command_id() -> str:
    return str(uuid.uuid4())


@dataclass
class Service:
    """One process of the service without its HTTP side."""

    url: str
    clock: Clock = field(default_factory=Clock)
    phones: dict[str, Actor] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.database = Database(self.url)
        self.handler: Handler = handle.new(self.database, SECRET, self.clock, CHEAP_KIB)

    def person(self, name: str, pin: str | None = "246810", **private: Any) -> Actor:
        """Somebody with a phone; joins no build by itself."""
        hashed = self.handler.pins.hashed(pin) if pin else None
        key = people.new_key()
        with self.database.write() as connection:
            people.add(
                connection,
                f"person-{name}",
                name.title(),
                self.clock(),
                pin_hash=hashed,
                private=people.Private(**private),
            )
            people.enrol(connection, key, f"person-{name}", self.clock())
        self.phones[name] = Actor(f"person-{name}", key.device)
        return self.phones[name]

    def second_phone(self, name: str) -> Actor:
        """One more phone of somebody's own."""
        key = people.new_key()
        with self.database.write() as connection:
            people.enrol(connection, key, f"person-{name}", self.clock())
        return Actor(f"person-{name}", key.device)

    def make_build(self, lead: str, build: str = BUILD) -> Answer:
        return self.handler.handle(
            build,
            self.phones[lead],
            self.envelope("build.make", name="Quillback Two", time_zone="Europe/London"),
            first=lambda connection: ledger.found_build(connection, build, self.clock()),
        )

    def join(self, name: str, lead: str, *, role: str = "helper", build: str = BUILD, **gives: Any) -> None:
        """Invited by the lead, joined on their own phone."""
        invite = f"invite-{name}"
        assert (
            self.do(lead, "crew.invite", build=build, invite=invite, role=role, **gives).status == "accepted"
        )
        assert self.do(name, "crew.join", build=build, invite=invite).status == "accepted"

    def envelope(self, kind: str, /, **body: Any) -> Envelope:
        """Fields named `seen`, `for_person`, `after`, `device_ms` and `id` belong to the envelope."""
        around = {
            name: body.pop(name) for name in ("seen", "for_person", "after", "device_ms") if name in body
        }
        return Envelope(id=body.pop("id", None) or command_id(), kind=kind, body=body, **around)

    def do(
        self, who: str, kind: str, /, *, build: str = BUILD, pin: str | None = None, **body: Any
    ) -> Answer:
        return self.handler.handle(build, self.phones[who], self.envelope(kind, **body), pin)

    def close(self) -> None:
        self.database.close()


def migrated_sqlite(folder: Path) -> Path:
    path = folder / "template.sqlite3"
    database = Database(f"sqlite:///{path}")
    migrate(database)
    database.close()
    return path


def fresh_sqlite(template: Path, folder: Path) -> str:
    path = folder / "yokemate.sqlite3"
    shutil.copyfile(template, path)
    return f"sqlite:///{path}"


def migrated_postgres(server: PostgresServer) -> str:
    name = "template_yokemate"
    database = Database(server.create_database(name))
    migrate(database)
    database.close()
    return name


def fresh_postgres(server: PostgresServer, template: str) -> Iterator[str]:
    name = f"test_{uuid.uuid4().hex}"
    yield server.create_database(name, template=template)
    server.drop_database(name)
