"""What people are called: no two of a build alike, and short where the crew says it short."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Mapping

from sqlalchemy import Connection

from yokemate.rules.frame import State
from yokemate.rules.presence import is_gone
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member
from yokemate.store import people


def need_free(connection: Connection, state: State, name: str, now_ms: int) -> None:
    """Nobody who belongs to the build is called so already. `state` must be locked: of two who come at once with the same
    name the second is refused. Who has left, or was a guest of another day, keeps nobody from coming (again).
    """
    there = [member.id for member in state.all(Member) if not is_gone(member, now_ms)]
    alike = [one.name for one in people.named(connection, there).values() if plain(one.name) == plain(name)]
    if alike:
        raise Refused("name_taken", field="name", name=alike[0])


def plain(name: str) -> str:
    """A name as it sounds: capitals, spaces and ways of writing a letter make no other one."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def short(names: Mapping[str, str]) -> dict[str, str]:
    """Each by first name; where two share it, with the first letter of the last name; where that is the same too, whole.
    The web app does the same, by `tests/cases/short_names.json`.
    """
    said = {id: name.split() for id, name in names.items()}
    by_first = {id: words[0] if words else "" for id, words in said.items()}
    by_letter = {
        id: f"{words[0]} {words[-1][0]}." if len(words) > 1 else by_first[id] for id, words in said.items()
    }
    firsts = Counter(plain(word) for word in by_first.values())
    letters = Counter(plain(word) for word in by_letter.values())
    return {
        id: by_first[id]
        if firsts[plain(by_first[id])] == 1
        else by_letter[id]
        if letters[plain(by_letter[id])] == 1
        else name
        for id, name in names.items()
    }
