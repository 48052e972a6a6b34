"""State rows: one small table per kind of the rules' closed list. Disposable: rebuilt from the ledger.

A row never disappears (`gone_at`), or phones would keep ghosts of it. `changed_at` is the number of the entry
that last changed it, so rows follow from the ledger to the last column (R2).
"""

from __future__ import annotations

import hashlib
import json
import types
from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from sqlalchemy import Connection, Index, MetaData, Text, bindparam, literal, select, union_all
from sqlalchemy.dialects.postgresql import insert as pg_insert
from sqlalchemy.dialects.sqlite import insert as sqlite_insert
from sqlmodel import Field, SQLModel

from yokemate.rules.frame import ENTRY_VERSIONS, Row
from yokemate.rules.rows import ROWS
from yokemate.store.tables import NAMES, table

ROWS_METADATA = MetaData(naming_convention=NAMES)
PREFIX = "row_"


class StateRow(SQLModel):
    """The columns that every kind has."""

    metadata = ROWS_METADATA
    build: str = Field(primary_key=True)
    id: str = Field(primary_key=True)
    state: str | None = None  # the row's own state word, for whoever looks with SQL
    changed_at: int
    gone_at: int | None = None
    body: str | None = Field(default=None, sa_type=Text)  # JSON; None when gone


def _make(kind: str) -> type[StateRow]:
    names = {"__tablename__": f"{PREFIX}{kind}", "__module__": __name__}
    made = types.new_class(f"Row_{kind}", (StateRow,), {"table": True}, lambda body: body.update(names))
    made_table = table(made)
    Index(f"ix_{PREFIX}{kind}_build_changed_at", made_table.c.build, made_table.c.changed_at)
    return made


MODELS = {kind: _make(kind) for kind in ROWS}
TABLES = {kind: table(model) for kind, model in MODELS.items()}


class Line(NamedTuple):
    """One state row as it is stored."""

    kind: str
    id: str
    state: str | None
    changed_at: int
    gone_at: int | None
    body: str | None


def line(kind: str, id: str, row: Row | None, number: int) -> Line:
    """How a row is stored that entry `number` changed (`row` None: took out)."""
    if row is None:
        return Line(kind, id, None, number, number, None)
    state = getattr(row, "state", None)
    return Line(kind, id, state if isinstance(state, str) else None, number, None, row.model_dump_json())


@cache
def stamp() -> str:
    """Names the shape of rows and entries: rows written under another stamp are rebuilt from the ledger."""
    shapes = {kind: row.model_json_schema() for kind, row in ROWS.items()}
    text = json.dumps([shapes, ENTRY_VERSIONS], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def ensure(connection: Connection) -> None:
    """Make the tables that are lacking."""
    ROWS_METADATA.create_all(connection)


def upsert(connection: Connection, build: str, lines: Iterable[Line]) -> None:
    by_kind: dict[str, list[dict[str, object]]] = {}
    for one in lines:
        by_kind.setdefault(one.kind, []).append({"build": build, **one._asdict()})
    for kind, values in by_kind.items():
        into = TABLES[kind]
        for value in values:
            del value["kind"]
        insert = sqlite_insert if connection.dialect.name == "sqlite" else pg_insert
        put = insert(into)
        changing = {name: put.excluded[name] for name in ("state", "changed_at", "gone_at", "body")}
        connection.execute(put.on_conflict_do_update(index_elements=["build", "id"], set_=changing), values)


def clear(connection: Connection, build: str) -> None:
    for one in TABLES.values():
        connection.execute(one.delete().where(one.c.build == build))


_CHANGED = union_all(
    *(
        select(
            literal(kind).label("kind"), one.c.id, one.c.state, one.c.changed_at, one.c.gone_at, one.c.body
        ).where(one.c.build == bindparam("build"), one.c.changed_at > bindparam("after"))
        for kind, one in TABLES.items()
    )
)


def changed_since(connection: Connection, build: str, after: int) -> Iterator[Line]:
    """Rows that changed after entry `after`, gone ones included; after 0: every row there ever was."""
    for found in connection.execute(_CHANGED, {"build": build, "after": after}):
        yield Line(*found)
