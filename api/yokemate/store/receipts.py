"""What each command was answered (R3)."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, select

from yokemate.store.tables import Device, Receipt, table

_RECEIPTS = table(Receipt)
_DEVICES = table(Device)


@dataclass(frozen=True)
class Found:
    """The device that has the receipt, the digest of the body it came with, and the stored outcome."""

    device: str
    body_digest: str
    outcome: dict[str, Any]


def find(connection: Connection, build: str, device: str, command: str) -> Found | None:
    asked = select(_RECEIPTS.c.device, _RECEIPTS.c.body_digest, _RECEIPTS.c.outcome).where(
        _RECEIPTS.c.build == build, _RECEIPTS.c.device == device, _RECEIPTS.c.command == command
    )
    return _found(connection, asked)


def find_of(connection: Connection, build: str, person: str, command: str) -> Found | None:
    """The same, of whichever own phone of somebody sent it: what waited on one can be handed over by another."""
    asked = (
        select(_RECEIPTS.c.device, _RECEIPTS.c.body_digest, _RECEIPTS.c.outcome)
        .join(_DEVICES, _DEVICES.c.id == _RECEIPTS.c.device)
        .where(_DEVICES.c.person == person, _DEVICES.c.shared.is_(False))
        .where(_RECEIPTS.c.build == build, _RECEIPTS.c.command == command)
    )
    return _found(connection, asked)


def _found(connection: Connection, asked: Select[Any]) -> Found | None:
    row = connection.execute(asked).first()
    return Found(row[0], row[1], json.loads(row[2])) if row else None


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
            outcome=_text(outcome),
            at_ms=now_ms,
        )
    )


def settle(connection: Connection, build: str, device: str, command: str, outcome: dict[str, Any]) -> None:
    """Write the outcome of a receipt anew, once what was still due with it is done."""
    connection.execute(
        _RECEIPTS.update()
        .where(_RECEIPTS.c.build == build, _RECEIPTS.c.device == device, _RECEIPTS.c.command == command)
        .values(outcome=_text(outcome))
    )


def _text(outcome: dict[str, Any]) -> str:
    return json.dumps(outcome, ensure_ascii=False, separators=(",", ":"))
