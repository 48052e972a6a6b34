"""Bring a database up to date: Alembic for what can't be rebuilt, then the tables of state rows."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, text

from yokemate.store import row_tables
from yokemate.store.engine import Database

_LOCK = 0x796F6B65  # "yoke": one process at a time migrates a PostgreSQL database


def folder() -> Path:
    """Where the migrations are: beside the package's sources, or inside the installed package."""
    package = Path(__file__).parents[1]
    for candidate in (package / "_migrations", package.parents[1] / "migrations"):
        if (candidate / "env.py").is_file():
            return candidate
    raise FileNotFoundError("the migrations are missing from this installation of yokemate: install it again")


def config(connection: Connection | None = None) -> Config:
    made = Config()
    made.set_main_option("script_location", str(folder()))
    made.set_main_option("path_separator", "os")
    if connection is not None:
        made.attributes["connection"] = connection
    return made


def migrate(database: Database) -> None:
    with database.write() as connection:
        if not database.sqlite:
            connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _LOCK})
        command.upgrade(config(connection), "head")
        row_tables.ensure(connection)
