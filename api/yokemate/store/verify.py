"""Whether the ledger is what was written, and whether the rows follow from it."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from typing import Any

import rfc8785
from sqlalchemy import Connection

from yokemate.store import ledger, payloads, row_tables, states
from yokemate.store.ledger import Stored
from yokemate.store.named import payloads_named


@dataclass(frozen=True)
class Verified:
    """`problems` empty: the chain holds. A cut tail shows only beside a head that somebody kept elsewhere.

    `photos_awaited`: photos that entries name and whose bytes are not here. Bytes travel apart and some never come, so
    the record can't tell these from bytes that somebody took away.
    """

    entries: int
    head: str
    problems: list[str]
    withdrawn: int
    photos_awaited: int

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
    named: dict[str, int] = {}
    withdrawn: dict[str, int] = {}
    for one in ledger.entries(connection, build):
        number += 1
        problems += _wrong(build, one, number, digest)
        number, digest = one.number, one.digest
        said = _said(one)
        for id in payloads_named(said):
            named.setdefault(id, number)
        if said.get("kind") == "payload.withdrawn":
            withdrawn[said["data"]["payload"]] = number
    if (number, digest) != (head.number, head.digest):
        problems.append(
            f"The ledger ends at entry {number}, the head says {head.number} with another digest or number."
        )
    papers = {kept.id: kept for kept in payloads.all_of(connection, build)}
    problems += [
        f"Payload {id[:12]} that entry {at} names is not there."
        for id, at in named.items()
        if id not in papers
    ]
    problems += [fault for kept in papers.values() if (fault := _payload(kept, withdrawn.get(kept.id)))]
    here, faults = _photos(connection, build)
    awaited = {kept.body for kept in papers.values() if kept.kind == "photo" and kept.body} - here
    gone_papers = sum(kept.body is None for kept in papers.values())
    return Verified(number, digest, problems + faults, gone_papers, len(awaited))


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


def _said(one: Stored) -> dict[str, Any]:
    """What an entry says; nothing where it can't be read, which is said of the entry itself."""
    try:
        said = json.loads(one.text)
    except ValueError:
        return {}
    return said if isinstance(said, dict) and isinstance(said.get("data"), dict) else {}


def _payload(kept: payloads.Kept, withdrawn_by: int | None) -> str | None:
    if kept.body is None or kept.salt is None:
        if withdrawn_by is not None and kept.withdrawn_at == withdrawn_by:
            return None
        return f"Payload {kept.id[:12]} is gone and no entry withdraws it."
    if withdrawn_by is not None:
        return f"Payload {kept.id[:12]} was withdrawn by entry {withdrawn_by} and is back."
    if payloads.digest(kept.salt, kept.body) != kept.id:
        return f"Payload {kept.id[:12]} was changed."
    return None


def _photos(connection: Connection, build: str) -> tuple[set[str], list[str]]:
    """Photos whose bytes are here, by their SHA-256, and what is wrong with bytes; one at a time in memory."""
    here = payloads.photo_names(connection, build)
    faults: list[str] = []
    for sha256 in sorted(here):
        found = payloads.photo(connection, build, sha256)
        if found is not None and hashlib.sha256(found[1]).hexdigest() != sha256:
            faults.append(f"Photo {sha256[:12]} was changed: its bytes make another digest.")
    return here, faults


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
