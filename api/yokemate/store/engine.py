"""The database: one engine, reading, and the one way to write.

SQLite: write-ahead log, FULL (an acknowledged write survives a power cut), one writer at a time inside this
process and BEGIN IMMEDIATE against other processes. PostgreSQL: who appends to a build locks its head row
(`ledger.lock_head`).
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from typing import Any

from sqlalchemy import Connection as Connection  # the type that other rooms hand on
from sqlalchemy import Engine, create_engine, event

SQLITE_WAIT_S = 10


class Database:
    """`url` as SQLAlchemy writes it: `sqlite:////path/file` or `postgresql+psycopg://…`."""

    def __init__(self, url: str) -> None:
        self.url = url
        self.engine = _engine(url)
        self.sqlite = self.engine.dialect.name == "sqlite"
        self._writing = threading.Lock()
        self._turns: dict[str, threading.Lock] = {}

    @contextmanager
    def read(self, *, steady: bool = False) -> Iterator[Connection]:
        """For reading only. `steady`: every statement sees the same moment; else, on PostgreSQL, each its own, and the
        two trips to the server that a transaction costs are saved."""
        with self.engine.connect() as connection:
            if not self.sqlite:
                level = "REPEATABLE READ" if steady else "AUTOCOMMIT"
                connection = connection.execution_options(isolation_level=level)
            yield connection

    @contextmanager
    def write(self, build: str | None = None) -> Iterator[Connection]:
        """A transaction that writes: committed when the block ends, rolled back when it raises.

        Whatever answers somebody does so after this block. Who appends to `build` waits for their turn here already:
        PostgreSQL lets latecomers past those who wait for a row, so that the slowest waited four times the median.
        """
        with self._turn(build), self._begin() as connection:
            yield connection

    def _turn(self, build: str | None) -> AbstractContextManager[object]:
        if self.sqlite:
            return self._writing
        return nullcontext() if build is None else self._turns.setdefault(build, threading.Lock())

    @contextmanager
    def _begin(self) -> Iterator[Connection]:
        with self.engine.connect() as connection, connection.execution_options(writes=True).begin():
            yield connection

    def close(self) -> None:
        self.engine.dispose()


def _engine(url: str) -> Engine:
    if url.startswith("sqlite"):
        engine = create_engine(url, pool_size=8, max_overflow=64, connect_args={"timeout": SQLITE_WAIT_S})
        event.listen(engine, "connect", _sqlite_connected)
        event.listen(engine, "begin", _sqlite_begin)
        return engine
    return create_engine(url, pool_size=8, max_overflow=32, pool_pre_ping=True)


def _sqlite_connected(connection: Any, _record: object) -> None:
    # The driver must not begin transactions by itself: `_sqlite_begin` does.
    connection.isolation_level = None
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "recursive_triggers=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _sqlite_begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
