"""Whether the ledger is what was written, and whether the rows follow from it."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass

import rfc8785
from sqlalchemy import Connection

from yokemate.store import ledger, payloads, row_tables, states
from yokemate.store.ledger import Stored


@dataclass(frozen=True)
class Verified:
    """`problems` empty: the chain holds. A cut tail shows only beside a head that somebody kept elsewhere."""

    entries: int
    head: str
    problems: list[str]
    withdrawn: int

    @property
    def holds(self) -> bool:
        return not self.problems


def verify(connection: Connection, build: str) -> Verified:
    found = ledger.head_and_stamp(connection, build)
    if found is None:
        raise LookupError(f"there is no build {build}")
    head = found[0]
    problems: list[str] = []
    number, digest = 0, ""
    told: dict[int, str] = {}
    for one in ledger.entries(connection, build):
        number += 1
        problems += _wrong(build, one, number, digest)
        number, digest = one.number, one.digest
        told[one.number] = one.text
    if (number, digest) != (head.number, head.digest):
        problems.append(
            f"The ledger ends at entry {number}, the head says {head.number} with another digest or number."
        )
    papers = payloads.all_of(connection, build)
    problems += [fault for kept in papers if (fault := _payload(kept, told))]
    return Verified(number, digest, problems, sum(kept.body is None for kept in papers))


def _wrong(build: str, one: Stored, number: int, digest: str) -> list[str]:
    wrong: list[str] = []
    if one.number != number:
        wrong.append(f"Entry {number} is missing.")
    if one.prev != digest:
        wrong.append(f"Entry {one.number} does not hold the digest of the entry before.")
    if hashlib.sha256(one.text.encode()).hexdigest() != one.digest:
        wrong.append(f"Entry {one.number} was changed: its digest differs.")
    try:
        said = json.loads(one.text)
        if rfc8785.dumps(said).decode() != one.text:
            wrong.append(f"Entry {one.number} is not in canonical form.")
        if (said["build"], said["number"], said["prev"]) != (build, one.number, one.prev):
            wrong.append(f"Entry {one.number} says another build, number or digest before.")
    except (ValueError, KeyError, TypeError):
        wrong.append(f"Entry {one.number} can't be read.")
    return wrong


def _payload(kept: payloads.Kept, told: dict[int, str]) -> str | None:
    if kept.body is None or kept.salt is None:
        if kept.id in told.get(kept.withdrawn_at or 0, ""):
            return None
        return f"Payload {kept.id[:12]} is gone and no entry withdraws it."
    if payloads.digest(kept.salt, kept.body) != kept.id:
        return f"Payload {kept.id[:12]} was changed."
    return None


def differences(connection: Connection, build: str) -> list[str]:
    """Rows, kind by kind, that are not what the ledger says (R2); compared to the last column."""
    wanted = {(one.kind, one.id): one for one in states.replayed(connection, build).lines}
    kept = {(one.kind, one.id): one for one in row_tables.changed_since(connection, build, -1)}
    return [
        f"{key[0]} {key[1]}: {_how(key in kept, key in wanted)}"
        for key in sorted(wanted.keys() | kept.keys())
        if wanted.get(key) != kept.get(key)
    ]


def _how(kept: bool, wanted: bool) -> str:
    return "differs" if kept and wanted else "not in the ledger" if kept else "lacking"
