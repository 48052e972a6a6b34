"""When members can come: outside the ledger, with the membership."""

from __future__ import annotations

from sqlalchemy import Connection, select

from yokemate.rules.hours import Hours
from yokemate.store.tables import HoursKept, table

_HOURS = table(HoursKept)


def of_build(connection: Connection, build: str) -> dict[str, Hours]:
    """What everybody said, by person."""
    asked = select(_HOURS.c.person, _HOURS.c.body).where(_HOURS.c.build == build).order_by(_HOURS.c.person)
    return {person: Hours.model_validate_json(body) for person, body in connection.execute(asked)}


def keep(connection: Connection, build: str, person: str, said: Hours, by: str, now_ms: int) -> None:
    mine = (_HOURS.c.build == build) & (_HOURS.c.person == person)
    values = {"body": said.model_dump_json(), "by": by, "at_ms": now_ms}
    if connection.execute(_HOURS.update().where(mine).values(values)).rowcount == 0:
        connection.execute(_HOURS.insert().values(build=build, person=person, **values))


def typed(connection: Connection, build: str, person: str) -> tuple[Hours, str, int] | None:
    """What one member said, who typed it, and when."""
    asked = select(_HOURS.c.body, _HOURS.c.by, _HOURS.c.at_ms).where(
        _HOURS.c.build == build, _HOURS.c.person == person
    )
    found = connection.execute(asked).first()
    return (Hours.model_validate_json(found[0]), found[1], found[2]) if found else None
