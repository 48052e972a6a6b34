"""Phones without a browser that speak the phone's protocol: all they know lies in a file of their own, nothing in memory."""

from __future__ import annotations

import http.client
import json
import sqlite3
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .busy_day import altered

AT_ONCE = 50
_TABLES = """
CREATE TABLE outbox (n INTEGER PRIMARY KEY, id TEXT UNIQUE, envelope TEXT, outcome TEXT);
CREATE TABLE mirror (kind TEXT, id TEXT, body TEXT, PRIMARY KEY (kind, id));
CREATE TABLE cursor (head TEXT);
CREATE TABLE photos (sha256 TEXT PRIMARY KEY, bytes BLOB, sent INTEGER);
"""


class Unreachable(Exception):
    """No answer, or half of one."""


@dataclass
class Door:
    """Where the service is for one phone, and its cookie."""

    port: int
    cookie: str = ""

    def post(self, path: str, body: Any) -> tuple[int, Any]:
        status, said = self.ask("POST", path, "application/json", json.dumps(body).encode())
        try:
            return status, json.loads(said)
        except ValueError as problem:
            raise Unreachable from problem

    def ask(self, method: str, path: str, kind: str = "", body: bytes | None = None) -> tuple[int, bytes]:
        headers = {"X-Yokemate": "1", "Connection": "close"}
        headers |= {"Content-Type": kind} if kind else {}
        headers |= {"Cookie": self.cookie} if self.cookie else {}
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            line.request(method, path, body, headers)
            answer = line.getresponse()
            given = answer.getheader("Set-Cookie")
            said = answer.read()
        except (OSError, http.client.HTTPException) as problem:
            raise Unreachable from problem
        finally:
            line.close()
        if given:
            self.cookie = given.split(";")[0]
        return answer.status, said


@dataclass
class FarPhone:
    """One person's phone. `differing`: ids that got two answers; `faults`: answers that no phone should get."""

    name: str
    build: str
    door: Door
    file: Path
    differing: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._kept = sqlite3.connect(self.file, check_same_thread=False, isolation_level=None)
        self._kept.execute("PRAGMA synchronous=OFF")  # the machine is not switched off in these tests
        self._kept.executescript(_TABLES)

    def type_in(self, envelope: dict[str, Any], photo: bytes | None = None) -> None:
        """Kept before anything is sent, the photo first."""
        if photo is not None:
            self._kept.execute("INSERT INTO photos VALUES (?, ?, 0)", (envelope["body"]["photo"], photo))
        self._kept.execute(
            "INSERT INTO outbox (id, envelope) VALUES (?, ?)", (envelope["id"], json.dumps(envelope))
        )

    def waiting(self) -> list[dict[str, Any]]:
        found = self._kept.execute(
            "SELECT envelope FROM outbox WHERE outcome IS NULL ORDER BY n LIMIT ?", (AT_ONCE,)
        )
        return [json.loads(one) for (one,) in found]

    def answered(self) -> list[tuple[dict[str, Any], dict[str, Any]]]:
        """Every command with its first answer, in the order typed."""
        found = self._kept.execute(
            "SELECT envelope, outcome FROM outbox WHERE outcome IS NOT NULL ORDER BY n"
        )
        return [(json.loads(asked), json.loads(said)) for asked, said in found]

    def some_answered(self, count: int) -> list[dict[str, Any]]:
        found = self._kept.execute(
            "SELECT envelope FROM outbox WHERE outcome IS NOT NULL ORDER BY random() LIMIT ?", (count,)
        )
        return [json.loads(one) for (one,) in found]

    def mirror(self) -> dict[tuple[str, str], Any]:
        found = self._kept.execute("SELECT kind, id, body FROM mirror")
        return {(kind, id): json.loads(body) for kind, id, body in found}

    def exchange(self, again: list[dict[str, Any]] | None = None) -> bool:
        """Hand over what waits, behind what was answered before and is sent `again`. False: no answer came."""
        commands = [*(again or []), *self.waiting()]
        try:
            said = self._ask(commands)
        except Unreachable:
            return False
        if said is not None:
            self._take_in(said)
        return said is not None

    def photos(self, sent: bool) -> list[tuple[str, bytes]]:
        return list(self._kept.execute("SELECT sha256, bytes FROM photos WHERE sent = ?", (sent,)))

    def send_photos(self) -> bool:
        """Hand over the bytes that wait, in no order that matters. False: no answer came."""
        for sha256, body in self.photos(sent=False):
            path = f"/api/builds/{self.build}/photos/{sha256}"
            try:
                status, said = self.door.ask("PUT", path, "image/jpeg", body)
            except Unreachable:
                return False
            if status != 200:
                self.faults.append(f"{status} {said!r}")
            self._kept.execute("UPDATE photos SET sent = 1 WHERE sha256 = ?", (sha256,))
        return True

    def alter(self, envelope: dict[str, Any]) -> dict[str, Any] | None:
        """Send another, well-formed body under an id that was answered: the outcome, or None where none came."""
        other = {**envelope, "body": altered(envelope["body"])}
        try:
            said = self._ask([other], cursor=False)
        except Unreachable:
            return None
        return said["outcomes"][0] if said else None

    def _ask(self, commands: list[dict[str, Any]], cursor: bool = True) -> Any:
        kept = self._kept.execute("SELECT head FROM cursor").fetchone() if cursor else None
        head = json.loads(kept[0]) if kept else None
        status, said = self.door.post(
            f"/api/builds/{self.build}/sync", {"cursor": head, "commands": commands}
        )
        if status != 200:
            self.faults.append(f"{status} {said}")
            return None
        if said["forked"]:
            self.faults.append("forked")
        return said

    def _take_in(self, said: Any) -> None:
        """Outcomes and rows in one transaction, as the app does."""
        self._kept.execute("BEGIN")
        for outcome in said["outcomes"]:
            kept = self._kept.execute("SELECT outcome FROM outbox WHERE id = ?", (outcome["id"],)).fetchone()
            text = json.dumps(outcome, sort_keys=True)
            if kept[0] is None:
                self._kept.execute("UPDATE outbox SET outcome = ? WHERE id = ?", (text, outcome["id"]))
            elif kept[0] != text:
                self.differing.append(f"{kept[0]} then {text}")
        if said["reset"]:
            self._kept.execute("DELETE FROM mirror")
        for row in said["rows"]:
            where = (row["kind"], row["id"])
            if row["body"] is None:
                self._kept.execute("DELETE FROM mirror WHERE kind = ? AND id = ?", where)
            else:
                self._kept.execute("REPLACE INTO mirror VALUES (?, ?, ?)", (*where, json.dumps(row["body"])))
        self._kept.execute("DELETE FROM cursor")
        self._kept.execute("INSERT INTO cursor VALUES (?)", (json.dumps(said["head"]),))
        self._kept.execute("COMMIT")

    def close(self) -> None:
        self._kept.close()
