"""How one service is set up: plain data from the command line, and the clock, which tests can move."""

from __future__ import annotations

import os
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

Mode = Literal["demo", "plain", "https"]
Clock = Callable[[], int]
DEFAULT_PORT = 8420


def system_clock() -> int:
    """Milliseconds since 1970, UTC."""
    return time.time_ns() // 1_000_000


@dataclass(frozen=True)
class Settings:
    """`secret` keys what is kept as a digest (PINs, receipts); it lies in a file outside the database."""

    database_url: str
    secret: bytes = field(repr=False)
    mode: Mode = "https"
    clock: Clock = system_clock
    argon2_memory_kib: int = 19 * 1024
    web_folder: Path = Path(__file__).parent / "_web"
    plan_seconds: float = 20.0  # how long a plan of the days is improved, in a process of its own
    public_url: str | None = None  # the address printed on invites, where it is not the one asked at

    @property
    def open_network(self) -> bool:
        """PIN acts over plain HTTP are recorded as *over an open network*."""
        return self.mode != "https"


@dataclass(frozen=True)
class Reach:
    """Where phones find the service, best address first; what a new phone must trust before it opens one of them.

    `origins`: every scheme, name and port that leads to this service now; empty where that can't be known.
    """

    addresses: tuple[str, ...] = ()
    origins: frozenset[str] = frozenset()
    join_page: str | None = None
    fingerprint: str | None = None
    authority: str | None = None
    warnings: tuple[str, ...] = ()


def secret_in(folder: Path) -> bytes:
    """The key file of a data folder; made on first use, readable by its owner only."""
    path = folder / "secret.key"
    if not path.exists():
        folder.mkdir(parents=True, exist_ok=True)
        made = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(made, "w") as file:
            file.write(secrets.token_hex(32))
    key = bytes.fromhex(path.read_text().strip())
    if len(key) < 32:
        raise ValueError(
            f"{path}: the key is too short. Put the right file back, or remove it and set every PIN anew."
        )
    return key


def sqlite_url(folder: Path) -> str:
    return f"sqlite:///{(folder / 'yokemate.sqlite3').resolve()}"
