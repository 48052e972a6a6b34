"""Fixtures for rooms that keep something: databases empty and with the demo in them, and a service on each engine."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from yokemate import demo
from yokemate.app import make_service
from yokemate.settings import Settings

from .one_at_a_time import one_at_a_time
from .postgres import PostgresServer
from .service import (
    CHEAP_KIB,
    ENGINES,
    SECRET,
    Service,
    fresh_postgres,
    fresh_sqlite,
    migrated_postgres,
    migrated_sqlite,
)


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Migrated once; every test gets a copy."""
    return migrated_sqlite(tmp_path_factory.mktemp("template"))


@pytest.fixture(scope="session")
def demo_played(sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A database in which the demo was played, once for the whole run, all workers of it; tests take copies."""
    base = tmp_path_factory.getbasetemp()
    kept = (base if worker_id == "master" else base.parent) / "demo.sqlite3"
    with one_at_a_time("demo"):
        if not kept.exists():
            folder = tmp_path_factory.mktemp("played")
            crew = demo.crew()
            settings = Settings(
                fresh_sqlite(sqlite_template, folder), SECRET, mode="demo", argon2_memory_kib=CHEAP_KIB
            )
            made = make_service(settings, [one.shown() for one in crew.people])
            demo.load(made, crew)
            made.database.close()
            os.replace(folder / "yokemate.sqlite3", kept)
    return kept


@pytest.fixture(scope="session")
def postgres_template(postgres_server: PostgresServer) -> str:
    return migrated_postgres(postgres_server)


@pytest.fixture(params=ENGINES)
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of an empty, migrated database of this test's own, on each engine in turn."""
    if request.param == "sqlite":
        yield fresh_sqlite(request.getfixturevalue("sqlite_template"), tmp_path)
    else:
        server = request.getfixturevalue("postgres_server")
        yield from fresh_postgres(server, request.getfixturevalue("postgres_template"))


@pytest.fixture
def service(database_url: str) -> Iterator[Service]:
    """Ines leads a build on it; Bram and Kofi have phones and belong to nothing yet."""
    running = Service(database_url)
    for name in ("ines", "bram", "kofi"):
        running.person(name)
    running.make_build("ines")
    yield running
    running.close()
