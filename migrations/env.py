"""What Alembic runs: the service hands over its connection; the command line reads DATABASE_URL."""

from __future__ import annotations

import os

from alembic import context
from sqlalchemy import Connection
from sqlalchemy.schema import SchemaItem

from yokemate.store.engine import Database
from yokemate.store.row_tables import PREFIX
from yokemate.store.tables import Lasting


def include(
    item: SchemaItem, name: str | None, kind: str, _reflected: bool, _compare_to: SchemaItem | None
) -> bool:
    """State rows are rebuilt from the ledger, never migrated."""
    owner = getattr(item, "table", None)
    named = owner.name if owner is not None else name
    return not (named or "").startswith(PREFIX)


def run(connection: Connection) -> None:
    context.configure(
        connection=connection, target_metadata=Lasting.metadata, include_object=include, compare_type=True
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if isinstance(given, Connection):
    run(given)
elif given is not None:  # an engine, as pytest-alembic hands over
    with given.connect() as opened, opened.begin():
        run(opened)
else:
    database = Database(os.environ["DATABASE_URL"])
    with database.write() as opened:
        run(opened)
    database.close()
