"""What each command was answered (R3)."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import Connection, select

from yokemate.store.tables import Receipt, table

_RECEIPTS = table(Receipt)


def find(connection: Connection, build: str, device: str, command: str) -> tuple[str, dict[str, Any]] | None:
    """The digest of the body it came with, and the stored outcome."""
    asked = select(_RECEIPTS.c.body_digest, _RECEIPTS.c.outcome).where(
        _RECEIPTS.c.build == build, _RECEIPTS.c.device == device, _RECEIPTS.c.command == command
    )
    found = connection.execute(asked).first()
    return (found[0], json.loads(found[1])) if found else None


def keep(
    connection: Connection,
    build: str,
    device: str,
    command: str,
    body_digest: str,
    outcome: dict[str, Any],
    now_ms: int,
) -> None:
    connection.execute(
        _RECEIPTS.insert().values(
            build=build,
            device=device,
            command=command,
            body_digest=body_digest,
            outcome=json.dumps(outcome, ensure_ascii=False, separators=(",", ":")),
            at_ms=now_ms,
        )
    )
