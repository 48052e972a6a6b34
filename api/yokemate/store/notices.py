"""PostgreSQL only: what the processes of one service tell each other. Numbers and ids, never data."""

from __future__ import annotations

import threading
from collections.abc import Callable

import psycopg
from sqlalchemy import text

from yokemate.store.engine import Database
from yokemate.store.ledger import CHANNEL

BEATS = "yokemate_beat"
BESIDE = "yokemate_beside"


def tell_beat(database: Database, build: str, person: str) -> None:
    with database.write() as connection:
        connection.execute(
            text("SELECT pg_notify(:channel, :said)"), {"channel": BEATS, "said": f"{build} {person}"}
        )


def tell_beside(database: Database, build: str) -> None:
    """Something outside the ledger changed that views of this build show."""
    with database.write() as connection:
        connection.execute(
            text("SELECT pg_notify(:channel, :said)"), {"channel": BESIDE, "said": f"{build} hours"}
        )


class Listener(threading.Thread):
    """Hears of heads moved and beats answered by other processes; connects again when the link breaks."""

    def __init__(
        self,
        database: Database,
        on_head: Callable[[str], None],
        on_beat: Callable[[str, str], None],
        on_link: Callable[[], None],
        on_beside: Callable[[str], None] = lambda build: None,
    ) -> None:
        """`on_link` is called whenever listening begins: what was said before that is not said again."""
        super().__init__(name="yokemate-notices", daemon=True)
        url = database.engine.url.set(drivername="postgresql")
        self._address = url.render_as_string(hide_password=False)
        self._on_head = on_head
        self._on_beat = on_beat
        self._on_link = on_link
        self._on_beside = on_beside
        self._over = threading.Event()  # not _stop: Thread keeps a method of that name

    def run(self) -> None:
        while not self._over.is_set():
            try:
                with psycopg.connect(self._address, autocommit=True) as connection:
                    for channel in (CHANNEL, BEATS, BESIDE):
                        connection.execute(f"LISTEN {channel}")
                    self._on_link()
                    self._hear(connection)
            except psycopg.OperationalError:
                self._over.wait(1)

    def _hear(self, connection: psycopg.Connection) -> None:
        while not self._over.is_set():
            for notice in connection.notifies(timeout=0.5):
                build, said = notice.payload.split(" ", 1)
                if notice.channel == CHANNEL:
                    self._on_head(build)
                elif notice.channel == BESIDE:
                    self._on_beside(build)
                else:
                    self._on_beat(build, said)

    def stop(self) -> None:
        self._over.set()
        self.join(5)
