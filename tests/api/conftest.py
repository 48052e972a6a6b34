"""What the tests of the HTTP side stand on."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from support.phones import Garage
from support.service import fresh_sqlite


@pytest.fixture
def empty(database_url: str) -> Iterator[Garage]:
    """A service that nobody has used, on each engine."""
    garage = Garage(database_url)
    yield garage
    garage.close()


@pytest.fixture
def garage(empty: Garage) -> Garage:
    """Ines leads, Bram builds, Kofi helps, Vera looks on; on each engine."""
    return crew(empty)


@pytest.fixture
def plain(sqlite_template: Path, tmp_path: Path) -> Iterator[Garage]:
    """The same crew over plain HTTP, on SQLite."""
    made = Garage(fresh_sqlite(sqlite_template, tmp_path), mode="plain")
    yield crew(made)
    made.close()


@pytest.fixture
def one(sqlite_template: Path, tmp_path: Path) -> Iterator[Garage]:
    """The same crew on SQLite alone, for what no database can change."""
    made = Garage(fresh_sqlite(sqlite_template, tmp_path))
    yield crew(made)
    made.close()


def crew(garage: Garage) -> Garage:
    garage.first("ines")
    garage.joined("bram", "builder", limit_kg="12", guideline_kg=16)
    garage.joined("kofi", "helper")
    garage.joined("vera", "viewer")
    return garage
