"""What the tests of this room stand on."""

from support.databases import database_url, postgres_template, service, sqlite_template

__all__ = ["database_url", "postgres_template", "service", "sqlite_template"]
