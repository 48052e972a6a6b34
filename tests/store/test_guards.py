"""The database itself refuses to change the ledger, on both engines."""

from __future__ import annotations

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from support.service import Service

INSERT = "INSERT INTO ledger (build, number, digest, prev, text) VALUES ('quillback', 1, 'x', '', 'forged')"
UPSERT = f"{INSERT} ON CONFLICT (build, number) DO UPDATE SET text = 'forged'"
FORGERIES = {
    "update": "UPDATE ledger SET text = 'forged' WHERE number = 1",
    "delete": "DELETE FROM ledger WHERE number = 1",
    "upsert": UPSERT,
    "a build taken away with its entries": "DELETE FROM builds WHERE id = 'quillback'",
}


@pytest.mark.parametrize("forgery", FORGERIES.values(), ids=FORGERIES.keys())
def test_an_entry_is_never_changed_or_removed(service: Service, forgery: str) -> None:
    """R1: the database refuses to change or remove an entry, whoever asks."""
    with pytest.raises(DBAPIError, match=r"never changed or removed|foreign key|FOREIGN KEY"):
        _write(service, forgery)

    assert _texts(service)[0].startswith('{"at_ms"')


def test_an_entry_is_never_replaced(service: Service) -> None:
    """R1: neither SQLite's INSERT OR REPLACE, which walks past a plain DELETE trigger, nor TRUNCATE gets through."""
    way_round = (
        INSERT.replace("INSERT", "INSERT OR REPLACE")
        if service.database.sqlite
        else "TRUNCATE ledger CASCADE"
    )

    with pytest.raises(DBAPIError, match="never changed or removed"):
        _write(service, way_round)

    assert _texts(service)[0].startswith('{"at_ms"')


@pytest.mark.parametrize("database_url", ["sqlite"], indirect=True)
def test_sqlite_is_set_up_to_lose_nothing(service: Service) -> None:
    """R1: an acknowledged entry survives a power cut: write-ahead log, FULL, foreign keys, recursive triggers."""
    with service.database.read() as connection:
        found = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "recursive_triggers")
        }

    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "recursive_triggers": 1}


def _write(service: Service, statement: str) -> None:
    """One statement, straight at the database."""
    with service.database.write() as connection:
        connection.execute(text(statement))


def _texts(service: Service) -> list[str]:
    with service.database.read() as connection:
        return list(connection.execute(text("SELECT text FROM ledger ORDER BY number")).scalars())
