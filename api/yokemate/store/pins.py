"""PINs: Argon2id after a keyed step, two at a time; wrong ones counted per person and device (R29)."""

from __future__ import annotations

import hashlib
import hmac
import re
import threading
from dataclasses import dataclass
from typing import Literal

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import Connection, delete, select, update

from yokemate.store.engine import Database
from yokemate.store.tables import Human, PinTries, table

_TRIES = table(PinTries)
_PEOPLE = table(Human)
FREE_TRIES = 5
FIRST_WAIT_MS = 60_000
LONGEST_WAIT_MS = 3_600_000
DIGITS = 6
LEAD_DIGITS = 8
PHRASE = 8  # letters of a phrase
_two = threading.BoundedSemaphore(2)  # each one takes 19 MiB


def too_easy(pin: str, *, lead: bool) -> bool:
    """Less than six digits, or all the same; of a lead less than eight, or than a phrase (R29)."""
    if len(set(pin)) == 1:
        return True
    phrase = len(pin) >= PHRASE and re.search(r"[^\d]", pin) is not None
    return not phrase and not (pin.isdigit() and len(pin) >= (LEAD_DIGITS if lead else DIGITS))


@dataclass(frozen=True)
class Tried:
    """What became of one try. `left`: tries before it waits; `until_ms`: when *waits* ends; `short`: right, but too easy
    for a lead. Only who types a PIN shows how long it is: of what is kept nothing can be told.
    """

    is_: Literal["right", "wrong", "waits", "none_set"]
    left: int = 0
    until_ms: int = 0
    short: bool = False


class Pins:
    """`secret` lies outside the database: a stolen database alone can't be searched for PINs."""

    def __init__(self, database: Database, secret: bytes, memory_kib: int = 19 * 1024) -> None:
        self._database = database
        self._secret = secret
        self._hasher = PasswordHasher(time_cost=2, memory_cost=memory_kib, parallelism=1)

    def hashed(self, pin: str) -> str:
        with _two:
            return self._hasher.hash(self._keyed(pin))

    def _keyed(self, pin: str) -> bytes:
        return hmac.digest(self._secret, b"pin\0" + pin.encode(), hashlib.sha256)

    def _right(self, kept: str, pin: str) -> bool:
        with _two:
            try:
                return self._hasher.verify(kept, self._keyed(pin))
            except (VerificationError, InvalidHashError):
                return False

    def try_(self, person: str, device: str, pin: str, now_ms: int) -> Tried:
        """Count first, then look: sixteen guesses sent at once are sixteen tries."""
        with self._database.write() as connection:
            kept = connection.execute(select(_PEOPLE.c.pin_hash).where(_PEOPLE.c.id == person)).scalar()
            if kept is None:
                return Tried("none_set")
            counted = self._count(connection, person, device, now_ms)
        if counted.is_ == "waits" or not self._right(kept, pin):
            return counted
        with self._database.write() as connection:
            connection.execute(delete(_TRIES).where(_TRIES.c.person == person, _TRIES.c.device == device))
        return Tried("right", FREE_TRIES, short=too_easy(pin, lead=True))

    def _count(self, connection: Connection, person: str, device: str, now_ms: int) -> Tried:
        """Write this try down as a wrong one; a right one wipes the count afterwards."""
        mine = (_TRIES.c.person == person) & (_TRIES.c.device == device)
        # The person's row is the lock that two processes share; SQLite has one writer anyhow.
        connection.execute(select(_PEOPLE.c.id).where(_PEOPLE.c.id == person).with_for_update())
        found = connection.execute(select(_TRIES.c.wrong, _TRIES.c.until_ms).where(mine)).first()
        wrong, until_ms = found or (0, 0)
        if now_ms < until_ms:
            return Tried("waits", until_ms=until_ms)
        wrong += 1
        if wrong >= FREE_TRIES:
            until_ms = now_ms + min(FIRST_WAIT_MS << min(wrong - FREE_TRIES, 10), LONGEST_WAIT_MS)
        values = {"wrong": wrong, "until_ms": until_ms}
        if found:
            connection.execute(update(_TRIES).where(mine).values(values))
        else:
            connection.execute(_TRIES.insert().values(person=person, device=device, **values))
        return Tried("wrong", max(0, FREE_TRIES - wrong), until_ms)
