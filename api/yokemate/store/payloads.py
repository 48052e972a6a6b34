"""Free words and photos. Entries hold only their salted digest, so that one can be withdrawn (R1)."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection, func, select, update

from yokemate.store.tables import GonePhoto, Payload, Photo, table

_PAYLOADS = table(Payload)
_PHOTOS = table(Photo)
_GONE = table(GonePhoto)


@dataclass(frozen=True)
class Kept:
    """One payload. `body`: the words, or the SHA-256 of the photo; None when withdrawn."""

    id: str
    kind: str
    salt: str | None
    body: str | None
    withdrawn_at: int | None = None


def kind_of_field(name: str) -> Literal["text", "photo"] | None:
    """Free words stand in fields of commands named `…_text` (and `text`), a photo's digest in `photo` (R1)."""
    if name == "photo":
        return "photo"
    return "text" if name == "text" or name.endswith("_text") else None


def digest(salt: str, body: str) -> str:
    """The id of a payload: SHA-256 over its salt and body, hex."""
    return hashlib.sha256(bytes.fromhex(salt) + body.encode()).hexdigest()


def made(kind: str, body: str) -> Kept:
    salt = secrets.token_hex(16)
    return Kept(digest(salt, body), kind, salt, body)


def keep(connection: Connection, build: str, kept: Sequence[Kept]) -> None:
    if kept:
        values = [{"build": build, "id": k.id, "kind": k.kind, "salt": k.salt, "body": k.body} for k in kept]
        connection.execute(_PAYLOADS.insert(), values)


def find(connection: Connection, build: str, id: str) -> Kept | None:
    columns = (_PAYLOADS.c.id, _PAYLOADS.c.kind, _PAYLOADS.c.salt, _PAYLOADS.c.body, _PAYLOADS.c.withdrawn_at)
    found = connection.execute(
        select(*columns).where(_PAYLOADS.c.build == build, _PAYLOADS.c.id == id)
    ).first()
    return Kept(*found) if found else None


def all_of(connection: Connection, build: str) -> list[Kept]:
    columns = (_PAYLOADS.c.id, _PAYLOADS.c.kind, _PAYLOADS.c.salt, _PAYLOADS.c.body, _PAYLOADS.c.withdrawn_at)
    return [Kept(*found) for found in connection.execute(select(*columns).where(_PAYLOADS.c.build == build))]


def withdraw(connection: Connection, build: str, id: str, entry: int, mark: Callable[[str], str]) -> None:
    """Take the body away; and the photo's bytes, where no other payload shows the same photo. Of those a keyed mark is
    remembered (`mark` makes it of the SHA-256), so that a phone that still holds them can't bring them back (R1).
    """
    kept = find(connection, build, id)
    if kept is None:
        return
    mine = (_PAYLOADS.c.build == build) & (_PAYLOADS.c.id == id)
    connection.execute(update(_PAYLOADS).where(mine).values(body=None, salt=None, withdrawn_at=entry))
    if kept.kind == "photo" and kept.body is not None:
        same = (_PAYLOADS.c.build == build) & (_PAYLOADS.c.kind == "photo") & (_PAYLOADS.c.body == kept.body)
        if not connection.execute(select(func.count()).select_from(_PAYLOADS).where(same)).scalar():
            connection.execute(
                _PHOTOS.delete().where(_PHOTOS.c.build == build, _PHOTOS.c.sha256 == kept.body)
            )
            gone = mark(kept.body)
            if not is_gone(connection, build, gone):
                connection.execute(_GONE.insert().values(build=build, mark=gone, withdrawn_at=entry))


def is_gone(connection: Connection, build: str, mark: str) -> bool:
    asked = select(_GONE.c.mark).where(_GONE.c.build == build, _GONE.c.mark == mark)
    return connection.execute(asked).first() is not None


def put_photo(
    connection: Connection, build: str, sha256: str, mime: str, body: bytes, by: str, now_ms: int
) -> bool:
    """Keep a photo's bytes once; False when they are here already. The build's head must be locked."""
    there = select(_PHOTOS.c.sha256).where(_PHOTOS.c.build == build, _PHOTOS.c.sha256 == sha256)
    if connection.execute(there).first():
        return False
    connection.execute(
        _PHOTOS.insert().values(build=build, sha256=sha256, mime=mime, body=body, by=by, at_ms=now_ms)
    )
    return True


def photo(connection: Connection, build: str, sha256: str) -> tuple[str, bytes] | None:
    asked = select(_PHOTOS.c.mime, _PHOTOS.c.body).where(_PHOTOS.c.build == build, _PHOTOS.c.sha256 == sha256)
    found = connection.execute(asked).first()
    return (found[0], found[1]) if found else None


def naming_photo(connection: Connection, build: str, sha256: str) -> set[str]:
    """Ids of the payloads that stand for a photo."""
    same = (_PAYLOADS.c.build == build) & (_PAYLOADS.c.kind == "photo") & (_PAYLOADS.c.body == sha256)
    return set(connection.execute(select(_PAYLOADS.c.id).where(same)).scalars())


def photo_names(connection: Connection, build: str) -> set[str]:
    """The SHA-256 of every photo whose bytes are here."""
    return set(connection.execute(select(_PHOTOS.c.sha256).where(_PHOTOS.c.build == build)).scalars())
