"""Migrations on both engines: one line of history, up and down, equal to the models, guards and rows unharmed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic.config import Config
from pytest_alembic.tests import (  # the names are what pytest finds
    test_model_definitions_match_ddl,
    test_single_head_revision,
    test_up_down_consistency,
    test_upgrade,
)
from sqlalchemy import Engine, inspect, text

from support.service import ENGINES, Service
from yokemate.store.engine import Database
from yokemate.store.migrate import config, migrate

pytest_plugins = ["pytest_alembic.plugin.fixtures"]
__all__ = [
    "test_model_definitions_match_ddl",
    "test_single_head_revision",
    "test_up_down_consistency",
    "test_upgrade",
]


@pytest.fixture(params=ENGINES)
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A database in which nothing has been made."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'empty.sqlite3'}"
    url = request.getfixturevalue("postgres_url")
    assert isinstance(url, str)
    return url


@pytest.fixture
def alembic_engine(empty_url: str) -> Iterator[Engine]:
    database = Database(empty_url)
    yield database.engine
    database.close()


@pytest.fixture
def alembic_config() -> Config:
    return config()


def test_every_constraint_has_its_name(empty_url: str) -> None:
    """Named constraints: a later migration can find each of them on both engines."""
    database = Database(empty_url)
    migrate(database)

    looked = inspect(database.engine)
    tables = [name for name in looked.get_table_names() if name != "alembic_version"]
    names = {name: looked.get_pk_constraint(name)["name"] for name in tables}
    keys = [key["name"] for name in tables for key in looked.get_foreign_keys(name)]
    database.close()

    assert names == {name: f"pk_{name}" for name in tables}
    assert keys
    assert all(key and key.startswith("fk_") for key in keys)


def test_migrating_again_harms_nothing(service: Service) -> None:
    """R1: bringing an up-to-date database up to date leaves entries, rows and guards as they were."""
    service.do("ines", "crew.sign_in")
    before = _everything(service)

    migrate(service.database)

    assert _everything(service) == before
    with pytest.raises(Exception, match="never changed or removed"), service.database.write() as connection:
        connection.execute(text("DELETE FROM ledger"))


def _everything(service: Service) -> list[list[tuple[object, ...]]]:
    asked = ("SELECT * FROM ledger ORDER BY number", "SELECT * FROM row_member", "SELECT * FROM builds")
    with service.database.read() as connection:
        return [[tuple(row) for row in connection.execute(text(one))] for one in asked]
