"""The state of a build as it follows from its ledger: loaded once, kept at its head, caught up."""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection

from yokemate.rules.frame import Draft, Entry, Row, State, apply_entry
from yokemate.rules.rows import ROWS
from yokemate.store import ledger, row_tables
from yokemate.store.engine import Database
from yokemate.store.ledger import Head, Stored

FRESH_S = 0.25  # SQLite: only this process appends while it serves, but for a command line beside it


@dataclass(frozen=True)
class Loaded:
    state: State
    head: Head


@dataclass(frozen=True)
class Told:
    """What follows from new entries: the entries as written, the state after them, the rows they changed."""

    stored: list[Stored]
    loaded: Loaded
    lines: list[row_tables.Line]


def follow(base: Loaded, stored: Iterable[Stored]) -> Told:
    """Apply entries as they stand in the ledger. Rows go through their stored form, so that a state kept in
    memory and one loaded from rows are the same."""
    draft = Draft(base.state)
    changed: dict[tuple[str, str], tuple[Row | None, int]] = {}
    taken: list[Stored] = []
    head = base.head
    for one in stored:
        if one.prev != head.digest or one.number != head.number + 1:
            raise LookupError(f"entry {one.number} does not follow entry {head.number}")
        draft.changed = {}
        apply_entry(draft, one.entry())
        changed.update((key, (row, one.number)) for key, row in draft.changed.items())
        head = Head(one.number, one.digest)
        taken.append(one)
    lines = [row_tables.line(kind, id, row, number) for (kind, id), (row, number) in changed.items()]
    for line in lines:
        if line.body is not None:
            draft.put(_row(line.kind, line.body))
    return Told(taken, Loaded(draft.done(head.number), head), lines)


def tell(build: str, base: Loaded, entries: Iterable[Entry]) -> Told:
    """Write entries behind `base` and follow them."""
    stored: list[Stored] = []
    head = base.head
    for entry in entries:
        stored.append(ledger.written(build, head.number + 1, head.digest, entry))
        head = Head(head.number + 1, stored[-1].digest)
    return follow(base, stored)


def replayed(connection: Connection, build: str) -> Told:
    """Everything from entry one (R2)."""
    return follow(Loaded(State(), Head(0, "")), ledger.entries(connection, build))


def rebuild(connection: Connection, build: str) -> Loaded:
    """Write the rows anew from the ledger. The head must be locked."""
    told = replayed(connection, build)
    row_tables.clear(connection, build)
    row_tables.upsert(connection, build, told.lines)
    ledger.set_stamp(connection, build, row_tables.stamp())
    return told.loaded


def _row(kind: str, body: str) -> Row:
    return ROWS[kind].model_validate_json(body)


def _from_rows(connection: Connection, build: str, head: Head) -> Loaded:
    rows: dict[str, dict[str, Row]] = {}
    for one in row_tables.changed_since(connection, build, 0):
        if one.body is not None:
            rows.setdefault(one.kind, {})[one.id] = _row(one.kind, one.body)
    return Loaded(State(rows, head.number), head)


class States:
    """One cached state per build. Treat what it hands out as immutable."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._cached: dict[str, Loaded] = {}
        self._looked: dict[str, float] = {}
        self._stamp = row_tables.stamp()

    def put(self, build: str, loaded: Loaded) -> None:
        """After a commit, and never before."""
        known = self._cached.get(build)
        if known is None or known.head.number <= loaded.head.number:
            self._cached[build] = loaded
            self._looked[build] = time.monotonic()

    def drop(self, build: str) -> None:
        self._cached.pop(build, None)
        self._looked.pop(build, None)

    def under_lock(self, connection: Connection, build: str, head: Head, stamp: str) -> Loaded:
        """The state at `head`, which the caller has locked. A stale process applies what it lacks."""
        if stamp != self._stamp:
            return rebuild(connection, build)
        return self._caught_up(connection, build, head)

    def current(self, build: str) -> Loaded | None:
        """The state for reading; None when there is no such build."""
        known = self._cached.get(build)
        if known is not None and self._database.sqlite:
            if time.monotonic() - self._looked.get(build, 0.0) < FRESH_S:
                return known
        if known is not None:
            with self._database.read() as connection:
                if ledger.head_and_stamp(connection, build) == (known.head, self._stamp):
                    self.put(build, known)
                    return known
        with self._database.read(steady=True) as connection:
            found = ledger.head_and_stamp(connection, build)
            if found is None:
                return None
            head, stamp = found
            if stamp == self._stamp:
                loaded = self._caught_up(connection, build, head)
                self.put(build, loaded)
                return loaded
        with self._database.write() as connection:
            locked = ledger.lock_head(connection, build)
            if locked is None:
                return None
            loaded = self.under_lock(connection, build, *locked)
        self.put(build, loaded)
        return loaded

    def _caught_up(self, connection: Connection, build: str, head: Head) -> Loaded:
        known = self._cached.get(build)
        if known is not None and known.head == head:
            return known
        if known is not None and known.head.number < head.number:
            try:
                return follow(known, ledger.entries(connection, build, known.head.number)).loaded
            except LookupError:
                self.drop(build)  # another history: a restored backup
        return _from_rows(connection, build, head)
