"""Tables of what can't be rebuilt from the ledger, and the ledger itself. Alembic migrates exactly these.

State rows are in `row_tables.py`: they follow from the ledger and are made anew when their shape changes.
"""

from __future__ import annotations

from typing import Any, cast

from sqlalchemy import BigInteger, LargeBinary, MetaData, Table, Text
from sqlmodel import Field, SQLModel

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class Lasting(SQLModel):
    """Base of every table that a migration makes."""

    metadata = MetaData(naming_convention=NAMES)


def table(model: type[SQLModel]) -> Table:
    """The table behind a model, for statements that need no objects."""
    return cast(Table, cast(Any, model).__table__)


class BuildHead(Lasting, table=True):
    """One build and the head of its ledger. Whoever appends locks this row."""

    __tablename__ = "builds"
    id: str = Field(primary_key=True)
    head: int = 0
    digest: str = ""
    rows_stamp: str = ""  # shape of the state rows as they were last written
    made_ms: int = Field(sa_type=BigInteger)


class LedgerLine(Lasting, table=True):
    """One entry: canonical JSON (RFC 8785) and its SHA-256. `text` holds the digest before (R1)."""

    __tablename__ = "ledger"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    number: int = Field(primary_key=True)
    digest: str
    prev: str
    text: str = Field(sa_type=Text)


class Receipt(Lasting, table=True):
    """What a command was answered, so that asking again gets the same answer (R3)."""

    __tablename__ = "receipts"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    device: str = Field(primary_key=True)
    command: str = Field(primary_key=True)
    body_digest: str  # keyed, so that withdrawn words can't be guessed from it
    outcome: str = Field(sa_type=Text)
    at_ms: int = Field(sa_type=BigInteger)


class Human(Lasting, table=True):
    """Who somebody is. The ledger knows the id only; the limit leaves to nobody but the person (R21)."""

    __tablename__ = "people"
    id: str = Field(primary_key=True)
    name: str
    icon: str | None = None
    pin_hash: str | None = None
    guideline_kg: int | None = None  # 25 or 16: which published figure applies
    limit_kg: str | None = None  # decimal as typed
    private_at_ms: int = Field(default=0, sa_type=BigInteger)  # when limit or guideline last changed
    made_ms: int = Field(sa_type=BigInteger)


class Device(Lasting, table=True):
    """An enrolled phone or the shared garage tablet. Only a digest of its secret is kept."""

    __tablename__ = "devices"
    id: str = Field(primary_key=True)
    person: str = Field(foreign_key="people.id", index=True)  # of the tablet: who shared it
    secret_digest: str
    name: str | None = None
    shared: bool = False
    shut_out_ms: int | None = Field(default=None, sa_type=BigInteger)
    last_seen_ms: int = Field(sa_type=BigInteger)
    session_person: str | None = Field(default=None, foreign_key="people.id")
    session_until_ms: int | None = Field(default=None, sa_type=BigInteger)
    made_ms: int = Field(sa_type=BigInteger)
    origin: str | None = None  # scheme, name and port it was enrolled at: what it has not sent lies there


class InviteCode(Lasting, table=True):
    """The secret of an invite (as a digest). What it gives is a row that follows from the ledger."""

    __tablename__ = "invites"
    code_digest: str = Field(primary_key=True)
    build: str = Field(foreign_key="builds.id")
    invite: str
    person: str | None = Field(default=None, foreign_key="people.id")  # another device for this person
    sets_pin: bool = False
    until_ms: int = Field(sa_type=BigInteger)
    used_ms: int | None = Field(default=None, sa_type=BigInteger)


class Payload(Lasting, table=True):
    """Free words, or which photo. `id` is SHA-256 over salt and body and stands in the entry (R1)."""

    __tablename__ = "payloads"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    id: str = Field(primary_key=True)
    kind: str  # text, photo
    salt: str | None
    body: str | None = Field(default=None, sa_type=Text)  # None: withdrawn
    withdrawn_at: int | None = None  # number of the entry that says so


class Photo(Lasting, table=True):
    """Bytes of a photo, handed over apart from the command that names it."""

    __tablename__ = "photos"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    sha256: str = Field(primary_key=True)
    mime: str
    body: bytes = Field(sa_type=LargeBinary)
    by: str = Field(foreign_key="people.id")
    at_ms: int = Field(sa_type=BigInteger)


class GonePhoto(Lasting, table=True):
    """A withdrawn photo, remembered by a keyed digest only: its bytes are not taken again (R1)."""

    __tablename__ = "gone_photos"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    mark: str = Field(primary_key=True)
    withdrawn_at: int  # number of the entry that says so


class PinTries(Lasting, table=True):
    """Wrong PINs per person and device, counted for refused acts too (R29)."""

    __tablename__ = "pin_tries"
    person: str = Field(primary_key=True, foreign_key="people.id")
    device: str = Field(primary_key=True)
    wrong: int = 0
    until_ms: int = Field(default=0, sa_type=BigInteger)


class HoursKept(Lasting, table=True):
    """When a member can come, as they said it (JSON of `rules.hours.Hours`). No row: they have not said."""

    __tablename__ = "hours"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    person: str = Field(primary_key=True, foreign_key="people.id")
    body: str = Field(sa_type=Text)
    by: str = Field(foreign_key="people.id")  # who typed it
    at_ms: int = Field(sa_type=BigInteger)


class Feed(Lasting, table=True):
    """A calendar address. Its secret is worked out from the service's key and `number`, so it lies in no table.

    `whose`: a person's id, or "crew". A higher `number` makes a new address and ends the old one.
    """

    __tablename__ = "feeds"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    whose: str = Field(primary_key=True)
    number: int = 1
    is_open: bool = True


class OfferKept(Lasting, table=True):
    """A plan of the days that may be taken (JSON), until newer ones push it out. What is taken stands in the ledger."""

    __tablename__ = "offers"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    id: str = Field(primary_key=True)
    number: int  # the newest has the highest
    body: str = Field(sa_type=Text)


class Search(Lasting, table=True):
    """The last plan of the days that was asked for, and how looking for a better one stands; whichever process looks."""

    __tablename__ = "searches"
    build: str = Field(primary_key=True, foreign_key="builds.id")
    id: str  # of the request: another one in its place ends it
    best: str  # the offer that may be taken
    stands: str  # waiting, working, over, broke
    found: int = 0  # how many better plans since the first
    seen_ms: int = Field(
        sa_type=BigInteger
    )  # when the process that looks last said so; by the machine's clock
