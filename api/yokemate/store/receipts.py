"""What each command was answered (R3)."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import Connection, select

from yokemate.store.tables import Device, Receipt, table

_RECEIPTS = table(Receipt)
_DEVICES = table(Device)


def find(connection: Connection, build: str, device: str, command: str) -> tuple[str, dict[str, Any]] | None:
    """The digest of the body it came with, and the stored outcome."""
    asked = select(_RECEIPTS.c.body_digest, _RECEIPTS.c.outcome).where(
        _RECEIPTS.c.build == build, _RECEIPTS.c.device == device, _RECEIPTS.c.command == command
    )
    found = connection.execute(asked).first()
    return (found[0], json.loads(found[1])) if found else None


def find_of(
    connection: Connection, build: str, person: str, command: str
) -> tuple[str, dict[str, Any]] | None:
    """The same, of whichever own phone of somebody sent it: what waited on one can be handed over by another."""
    asked = (
        select(_RECEIPTS.c.body_digest, _RECEIPTS.c.outcome)
        .join(_DEVICES, _DEVICES.c.id == _RECEIPTS.c.device)
        .where(_DEVICES.c.person == person, _DEVICES.c.shared.is_(False))
        .where(_RECEIPTS.c.build == build, _RECEIPTS.c.command == command)
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
