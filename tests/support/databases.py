"""Fixtures for rooms that keep something: an empty, migrated database on each engine, and a service on it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from .postgres import PostgresServer
from .service import ENGINES, Service, fresh_postgres, fresh_sqlite, migrated_postgres, migrated_sqlite


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Migrated once; every test gets a copy."""
    return migrated_sqlite(tmp_path_factory.mktemp("template"))


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
