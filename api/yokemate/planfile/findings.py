"""What reading and checking a plan file find: where, what is wrong, what to do about it (R24, R32)."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from pydantic import BaseModel

Loc = tuple[str | int, ...]  # the way from the top of the plan to a value: ("tasks", 3, "steps", 0, "group")

# What one entry of a list is called; its id (or its number in the list) follows the word.
_ONE = {
    "after": "after", "bags": "bag", "belts": "belt", "choices": "choice", "cuts": "cut list",
    "fasteners": "fastener", "follow_ups": "follow-up", "gates": "gate", "groups": "bolt group",
    "holds": "holds", "lifts": "lift", "loose_ends": "loose end", "options": "option", "parts": "part",
    "phases": "phase", "pieces": "piece", "pulleys": "pulley", "skills": "skill", "specs": "spec",
    "stages": "stage", "standing": "standing condition", "steps": "step", "supports": "support",
    "tasks": "task", "tools": "tool", "uses": "uses", "wires": "wire", "zones": "zone",
}  # fmt: skip
_BY_NUMBER = {"steps", "phases", "standing", "pieces", "fasteners"}  # people say "step 3", not its id


@dataclass(frozen=True)
class Finding:
    """One thing found. An *error* keeps the plan from being loaded; a *doubt* is shown and stops nobody."""

    level: Literal["error", "doubt"]
    code: str
    loc: Loc
    field: str  # `loc` in plan words: "task T304, step 3, group"
    says: str
    remedy: str
    line: int | None = None  # 1-based; None when the plan did not come as text
    column: int | None = None
    source: str = ""  # what judged a figure: a standard, a table, a rule of this project

    def text(self) -> str:
        place = ", ".join(p for p in (f"line {self.line}" if self.line else "", self.field) if p)
        return f"{place[:1].upper()}{place[1:]}: {self.says} {self.remedy}".strip()


def nearest(word: str, known: Iterable[str]) -> str:
    """ "Nearest: J09." for the known word most like this one, or "" where none is near."""
    pool = list(known)
    close = difflib.get_close_matches(word, pool, n=1, cutoff=0.5)
    if not close:
        folded = {k.casefold(): k for k in pool}
        close = [folded[c] for c in difflib.get_close_matches(word.casefold(), list(folded), n=1, cutoff=0.5)]
    return f"Nearest: {close[0]}." if close else ""


def _get(container: object, key: str | int) -> object:
    if isinstance(container, Mapping):
        return container.get(key)
    if isinstance(container, list | tuple) and isinstance(key, int):
        return container[key] if key < len(container) else None
    if isinstance(container, BaseModel) and isinstance(key, str):
        return getattr(container, key, None)
    return None


def words(plan: object, loc: Loc) -> str:
    """`loc` as a person would say it. `plan` is the Plan, or the same as plain mappings and lists."""
    said: list[str] = []
    here: object = plan
    list_name = ""
    for key in loc:
        here = _get(here, key)
        if isinstance(key, str):
            if key in _ONE and isinstance(here, list | tuple):
                list_name = key
            else:
                list_name = ""
                said.append(key)
        else:
            name = (
                None
                if list_name in _BY_NUMBER
                else (_get(here, "id") or _get(here, "task") or _get(here, "part"))
            )
            label = name if isinstance(name, str) else (here if isinstance(here, str) else key + 1)
            said.append(f"{_ONE.get(list_name, 'entry')} {label}")
            list_name = ""
    if list_name:
        said.append(list_name)
    return ", ".join(said) or "the plan"
