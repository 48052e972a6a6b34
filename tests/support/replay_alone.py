"""Replays a ledger in a process where clock, chance, `calc` and everything that decides are forbidden (R2).

    python replay_alone.py < entries > rows
    python replay_alone.py "import time; time.time()" < entries     (what becomes of it when applying does that too)

Entries come in as they are stored, one canonical JSON text a line; rows go out as the store holds them:
kind, id, the number of the entry that last changed the row, and its text (null when gone), one JSON list a line.
"""

from __future__ import annotations

import datetime
import importlib.abc
import json
import os
import random
import secrets
import sys
import time
import uuid
from collections.abc import Iterable, Sequence
from typing import Any, NoReturn

import pydantic  # noqa: F401  (before the clock is taken away: an import may look at it)

FORBIDDEN = (
    "yokemate.calc", "yokemate.units", "yokemate.planning", "yokemate.store", "yokemate.handle", "yokemate.settings",
    "yokemate.rules.decide", "yokemate.rules.views",
)  # fmt: skip
CLOCKS = (
    "time",
    "time_ns",
    "monotonic",
    "monotonic_ns",
    "perf_counter",
    "localtime",
    "gmtime",
    "ctime",
    "sleep",
)
CHANCE = (
    "random",
    "randint",
    "randrange",
    "choice",
    "choices",
    "shuffle",
    "sample",
    "uniform",
    "getrandbits",
)


class NotAlone(Exception):
    """Applying an entry asked for something that is not in the ledger."""


def forbid(name: str) -> Any:
    def asked(*_arguments: Any, **_more: Any) -> NoReturn:
        raise NotAlone(f"replaying asked for {name}")

    return asked


class NoWayIn(importlib.abc.MetaPathFinder):
    """Rooms that compute can't be imported at all."""

    def find_spec(self, fullname: str, path: Sequence[str] | None, target: Any = None) -> None:
        if fullname.startswith(FORBIDDEN):
            raise NotAlone(f"replaying asked for {fullname}")


class StoppedDate(datetime.date):
    today = forbid("date.today")


class StoppedDatetime(datetime.datetime):
    now = utcnow = today = forbid("datetime.now")


def take_away() -> None:
    sys.meta_path.insert(0, NoWayIn())
    for module, names in (
        (time, CLOCKS),
        (random, CHANCE),
        (uuid, ("uuid1", "uuid4")),
        (secrets, ("token_hex", "token_bytes", "token_urlsafe", "randbelow", "choice")),
        (os, ("urandom", "getrandom")),
    ):
        for name in names:
            if hasattr(module, name):
                setattr(module, name, forbid(f"{module.__name__}.{name}"))
    for name, stopped in (("date", StoppedDate), ("datetime", StoppedDatetime)):
        setattr(datetime, name, stopped)


def replay(lines: Iterable[str]) -> dict[tuple[str, str], tuple[int, str | None]]:
    """Row -> the number of the entry that last changed it, and its text."""
    import yokemate.rules.apply  # noqa: F401
    from yokemate.rules.frame import Draft, Entry, State, apply_entry

    state, rows = State(), dict[tuple[str, str], tuple[int, str | None]]()
    for number, line in enumerate(lines, start=1):
        said = json.loads(line)
        fields = ("kind", "data", "by", "device", "device_ms", "at_ms", "version", "command", "typed_by")
        draft = Draft(state)
        apply_entry(draft, Entry(**{field: said[field] for field in fields}))
        for key, row in draft.changed.items():
            rows[key] = (number, row.model_dump_json() if row is not None else None)
        state = draft.done(number)
    return rows


def planted(words: str, lines: list[str]) -> str:
    """What becomes of the replay when the applying function of the first entry runs these words too."""
    import yokemate.rules.apply  # noqa: F401
    from yokemate.rules import frame

    kept = frame._APPLIES["build.made"]

    def computing(*arguments: Any, **data: Any) -> None:
        exec(words, {})
        kept(*arguments, **data)

    frame._APPLIES["build.made"] = computing
    try:
        replay(lines)
        return "nothing"
    except NotAlone as found:
        return str(found)
    finally:
        frame._APPLIES["build.made"] = kept


def main() -> None:
    take_away()
    lines = sys.stdin.readlines()
    for words in sys.argv[1:]:
        print(json.dumps([words, planted(words, lines)]))
    if not sys.argv[1:]:
        for (kind, id), (number, body) in sorted(replay(lines).items()):
            print(json.dumps([kind, id, number, body]))


if __name__ == "__main__":
    main()
