"""The ledger: entries as canonical JSON (RFC 8785), chained per build by SHA-256 (R1)."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import rfc8785
from sqlalchemy import Connection, Select, select, text, update

from yokemate.rules.frame import Entry
from yokemate.store.tables import BuildHead, LedgerLine, table

_HEADS = table(BuildHead)
_LEDGER = table(LedgerLine)
CHANNEL = "yokemate_head"


@dataclass(frozen=True)
class Head:
    """Where a build's ledger stands: number of its last entry and that entry's digest ("" while empty)."""

    number: int
    digest: str


@dataclass(frozen=True)
class Stored:
    """An entry as it was written."""

    number: int
    digest: str
    prev: str
    text: str

    def entry(self) -> Entry:
        said = json.loads(self.text)
        return Entry(
            kind=said["kind"],
            data=said["data"],
            by=said["by"],
            device=said["device"],
            device_ms=said["device_ms"],
            at_ms=said["at_ms"],
            version=said["version"],
            command=said["command"],
            typed_by=said["typed_by"],
        )


def written(build: str, number: int, prev: str, entry: Entry) -> Stored:
    """An entry's canonical text and digest. Raises when there is a float or an integer beyond 2**53 in it."""
    said: dict[str, Any] = {
        "at_ms": entry.at_ms,
        "build": build,
        "by": entry.by,
        "command": entry.command,
        "data": entry.data,
        "device": entry.device,
        "device_ms": entry.device_ms,
        "kind": entry.kind,
        "number": number,
        "prev": prev,
        "typed_by": entry.typed_by,
        "version": entry.version,
    }
    _no_float(said)
    canonical = rfc8785.dumps(said)
    return Stored(number, hashlib.sha256(canonical).hexdigest(), prev, canonical.decode())


def _no_float(value: Any) -> None:
    if isinstance(value, float):
        raise TypeError("an entry holds no float")
    if isinstance(value, dict):
        for inner in value.values():
            _no_float(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            _no_float(inner)


def found_build(connection: Connection, build: str, now_ms: int) -> None:
    """A new build's empty ledger."""
    connection.execute(_HEADS.insert().values(id=build, head=0, digest="", rows_stamp="", made_ms=now_ms))


def exists(connection: Connection, build: str) -> bool:
    return head_and_stamp(connection, build) is not None


def _asked(build: str) -> Select[Any]:
    return select(_HEADS.c.head, _HEADS.c.digest, _HEADS.c.rows_stamp).where(_HEADS.c.id == build)


def head_and_stamp(connection: Connection, build: str) -> tuple[Head, str] | None:
    found = connection.execute(_asked(build)).first()
    return (Head(found[0], found[1]), found[2]) if found else None


def lock_head(connection: Connection, build: str) -> tuple[Head, str] | None:
    """Head and rows' stamp, held against every other writer until the transaction ends."""
    found = connection.execute(
        _asked(build).with_for_update()
    ).first()  # SQLite knows no FOR UPDATE, needs none
    return (Head(found[0], found[1]), found[2]) if found else None


def append(connection: Connection, build: str, at: Head, entries: Sequence[Stored]) -> Head:
    """Write entries behind `at`, move the head, and tell other processes the number (never data)."""
    connection.execute(
        _LEDGER.insert(),
        [{"build": build, **vars(entry)} for entry in entries],
    )
    last = entries[-1]
    still = (_HEADS.c.id == build) & (_HEADS.c.head == at.number)
    moved = connection.execute(update(_HEADS).where(still).values(head=last.number, digest=last.digest))
    if moved.rowcount != 1:
        raise RuntimeError("the head moved under the lock")
    if connection.dialect.name == "postgresql":
        said = {"channel": CHANNEL, "said": f"{build} {last.number}"}
        connection.execute(text("SELECT pg_notify(:channel, :said)"), said)
    return Head(last.number, last.digest)


def set_stamp(connection: Connection, build: str, stamp: str) -> None:
    connection.execute(update(_HEADS).where(_HEADS.c.id == build).values(rows_stamp=stamp))


def entries(connection: Connection, build: str, after: int = 0, count: int | None = None) -> Iterator[Stored]:
    """Entries behind number `after`, in order."""
    columns = (_LEDGER.c.number, _LEDGER.c.digest, _LEDGER.c.prev, _LEDGER.c.text)
    asked = select(*columns).where(_LEDGER.c.build == build, _LEDGER.c.number > after)
    asked = asked.order_by(_LEDGER.c.number)
    for found in connection.execute(asked.limit(count) if count is not None else asked):
        yield Stored(*found)


def digest_at(connection: Connection, build: str, number: int) -> str | None:
    asked = select(_LEDGER.c.digest).where(_LEDGER.c.build == build, _LEDGER.c.number == number)
    return connection.execute(asked).scalar()


def forked(connection: Connection, build: str, number: int, digest: str) -> bool:
    """Whether this ledger has another entry, or none, under that number: it was put back to before it. 0: nothing yet."""
    return number > 0 and digest_at(connection, build, number) != digest


def builds(connection: Connection) -> list[str]:
    return list(connection.execute(select(_HEADS.c.id).order_by(_HEADS.c.made_ms, _HEADS.c.id)).scalars())
