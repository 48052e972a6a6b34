"""Which free words and photos an entry names (R1)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from yokemate.store.payloads import kind_of_field

_SHA256 = re.compile(r"[0-9a-f]{64}")


def payloads_named(said: Mapping[str, Any]) -> Iterator[str]:
    """Ids of payloads in an entry as it was written, wherever they stand in it.

    By their shape, so that a new kind of entry needs no list: nothing else in an entry is a SHA-256, but for digests of
    what stands in the record itself, whose fields are named so. What was typed into an ask that was refused may hold
    anything; of that only the fields count whose words were swapped.
    """
    kind, data = said.get("kind"), said.get("data", {})
    if kind == "evidence.kept":
        yield from named_in_asks(data["asks"])
    elif kind != "plan.loaded":  # the plan's own words stand in the entry
        yield from _ids(data)


def named_in_asks(asks: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    """Ids of payloads in asks that were refused, as their evidence holds them."""
    for ask in asks:
        yield from _ids({name: value for name, value in ask["body"].items() if kind_of_field(name)})


def _ids(value: Any) -> Iterator[str]:
    if isinstance(value, str) and _SHA256.fullmatch(value):
        yield value
    elif isinstance(value, list):
        for inner in value:
            yield from _ids(inner)
    elif isinstance(value, dict):
        for name, inner in value.items():
            if not name.endswith(("digest", "digests")):
                yield from _ids(inner)
