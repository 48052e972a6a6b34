"""Calendar addresses: secret, unguessable, and renewed at will. The secret itself lies in no table."""

from __future__ import annotations

import base64
import hashlib
import hmac

from sqlalchemy import Connection, select

from yokemate.store.tables import Feed, table

_FEEDS = table(Feed)
CREW = "crew"


def secret_of(key: bytes, build: str, whose: str, number: int) -> str:
    """256 bits that follow from the service's key: nobody finds them without it, and no copy of the database tells them."""
    said = f"feed {build} {whose} {number}".encode()
    return base64.urlsafe_b64encode(hmac.digest(key, said, hashlib.sha256)).decode().rstrip("=")


def number_of(connection: Connection, build: str, whose: str) -> int | None:
    """The number of the address in force; None: there is none."""
    asked = select(_FEEDS.c.number).where(
        _FEEDS.c.build == build, _FEEDS.c.whose == whose, _FEEDS.c.is_open.is_(True)
    )
    return connection.execute(asked).scalar()


def renew(connection: Connection, build: str, whose: str) -> int:
    """A new address; the one before ends."""
    mine = (_FEEDS.c.build == build) & (_FEEDS.c.whose == whose)
    had = connection.execute(select(_FEEDS.c.number).where(mine).with_for_update()).scalar()
    if had is None:
        connection.execute(_FEEDS.insert().values(build=build, whose=whose, number=1, is_open=True))
        return 1
    connection.execute(_FEEDS.update().where(mine).values(number=had + 1, is_open=True))
    return int(had) + 1


def end(connection: Connection, build: str, whose: str) -> None:
    mine = (_FEEDS.c.build == build) & (_FEEDS.c.whose == whose)
    connection.execute(_FEEDS.update().where(mine).values(is_open=False))
