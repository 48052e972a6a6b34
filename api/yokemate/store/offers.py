"""Plans of the days that may be taken, and how looking for better ones stands: outside the ledger, for every process."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import Connection, func, select

from yokemate.store.tables import OfferKept, Search, table

_OFFERS, _SEARCHES = table(OfferKept), table(Search)
KEPT = 20  # of one build; the oldest go first
Stands = Literal["waiting", "working", "over", "broke"]


@dataclass(frozen=True)
class Found:
    """How a search stands, with the body of its best offer. seen_ms: when it was last heard of."""

    id: str
    offer: str
    body: str
    stands: Stands
    found: int
    seen_ms: int


def keep(connection: Connection, build: str, offer: str, body: str) -> None:
    """A new offer; the oldest beyond `KEPT` go."""
    mine = _OFFERS.c.build == build
    last = connection.execute(select(func.max(_OFFERS.c.number)).where(mine)).scalar() or 0
    connection.execute(_OFFERS.insert().values(build=build, id=offer, number=last + 1, body=body))
    connection.execute(_OFFERS.delete().where(mine, _OFFERS.c.number <= last + 1 - KEPT))


def data_of(connection: Connection, build: str, offer: str) -> dict[str, Any] | None:
    """What the entry of a taken plan will hold; None: it is there no more."""
    asked = select(_OFFERS.c.body).where(_OFFERS.c.build == build, _OFFERS.c.id == offer)
    body = connection.execute(asked).scalar()
    return None if body is None else dict(json.loads(body)["data"])


def begin(connection: Connection, build: str, search: str, offer: str, stands: Stands, now_ms: int) -> None:
    """A search in the place of the one before, which ends by that."""
    values = {"id": search, "best": offer, "stands": stands, "found": 0, "seen_ms": now_ms}
    mine = _SEARCHES.c.build == build
    if connection.execute(_SEARCHES.update().where(mine).values(values)).rowcount == 0:
        connection.execute(_SEARCHES.insert().values(build=build, **values))


def go_on(connection: Connection, build: str, search: str, stands: Stands, now_ms: int) -> bool:
    """Say how it stands. False: another one has taken its place."""
    mine = (_SEARCHES.c.build == build) & (_SEARCHES.c.id == search)
    said = _SEARCHES.update().where(mine).values(stands=stands, seen_ms=now_ms)
    return connection.execute(said).rowcount == 1


def end(connection: Connection, build: str, instead: str) -> None:
    """What was found stands; whoever still looks finds another in its place."""
    mine = (_SEARCHES.c.build == build) & _SEARCHES.c.stands.in_(("waiting", "working"))
    connection.execute(_SEARCHES.update().where(mine).values(id=instead, stands="over"))


def better(connection: Connection, build: str, search: str, offer: str, body: str) -> bool:
    """A better plan of a search. False, and nothing is kept: another one has taken its place."""
    mine = (_SEARCHES.c.build == build) & (_SEARCHES.c.id == search)
    said = _SEARCHES.update().where(mine).values(best=offer, found=_SEARCHES.c.found + 1)
    if connection.execute(said).rowcount == 0:
        return False
    keep(connection, build, offer, body)
    return True


def say_anew(connection: Connection, build: str, offer: str, body: str) -> None:
    """The same plan, of which more is known."""
    mine = (_OFFERS.c.build == build) & (_OFFERS.c.id == offer)
    connection.execute(_OFFERS.update().where(mine).values(body=body))


def found(connection: Connection, build: str) -> Found | None:
    """How the last search of a build stands; None: no plan was asked for yet."""
    columns = (
        _SEARCHES.c.id,
        _SEARCHES.c.best,
        _OFFERS.c.body,
        _SEARCHES.c.stands,
        _SEARCHES.c.found,
        _SEARCHES.c.seen_ms,
    )
    both = (_OFFERS.c.build == _SEARCHES.c.build) & (_OFFERS.c.id == _SEARCHES.c.best)
    asked = select(*columns).select_from(_SEARCHES.join(_OFFERS, both)).where(_SEARCHES.c.build == build)
    row = connection.execute(asked).first()
    return None if row is None else Found(*row)
