"""From an envelope to a command, field by field; whatever is wrong is named with its remedy (R32)."""

from __future__ import annotations

import hashlib
import hmac
from dataclasses import dataclass
from typing import Any

import rfc8785
from pydantic import ValidationError

from yokemate.handle.faults import fault_words
from yokemate.handle.shapes import EXACT, Envelope
from yokemate.rules.frame import COMMANDS, Command, CommandSpec
from yokemate.rules.refusals import Refused
from yokemate.store import payloads
from yokemate.store.payloads import Kept

_PLAIN = {"\n", "\t", "\r"}
_NOT_KNOWN = {"extra_forbidden", "literal_error", "enum"}


def bad(field: str, problem: str, remedy: str) -> Refused:
    return Refused("bad_input", field=field, problem=problem, remedy=remedy)


def clean(value: Any, field: str = "body", depth: int = 0) -> None:
    """Refuse what no ledger can hold exactly: huge integers, control characters, bottomless nesting."""
    if depth > 30:
        raise bad(field, "nested too deep.", "Send plain fields.")
    if isinstance(value, str):
        if any((c < " " and c not in _PLAIN) or "\ud800" <= c <= "\udfff" for c in value):
            raise bad(field, "holds a character that is no text.", "Type it again.")
    elif isinstance(value, bool) or value is None:
        return
    elif isinstance(value, int):
        if abs(value) > EXACT:
            raise bad(field, "the number is too large.", "Give a smaller one.")
    elif isinstance(value, float):
        if value != value or value in (float("inf"), float("-inf")):
            raise bad(field, "is no number.", "Give a number.")
    elif isinstance(value, dict):
        for name, inner in value.items():
            clean(name, field, depth + 1)
            clean(inner, f"{field}.{name}" if depth else str(name), depth + 1)
    elif isinstance(value, list):
        for number, inner in enumerate(value, start=1):
            clean(inner, f"{field}.{number}", depth + 1)


def other_version(what: str) -> Refused:
    """What an app of another version says and this service does not know. Nothing is wrong with it: it can wait."""
    return Refused("other_version", what=what)


def first_fault(error: ValidationError) -> Refused:
    """The first thing wrong, by the name of its field; a field or a word of a closed list that is not known here is
    another version's.
    """
    wrong = error.errors(include_url=False)
    found = next((one for one in wrong if one["type"] not in _NOT_KNOWN), wrong[0])
    field = ".".join(str(part) for part in found["loc"]) or "body"
    if found["type"] == "extra_forbidden":
        return other_version(f"the field {field}")
    if found["type"] in _NOT_KNOWN:
        return other_version(f"“{str(found['input'])[:40]}” for {field}")
    return bad(field, *fault_words(found))


def spec_of(kind: str) -> CommandSpec:
    spec = COMMANDS.get(kind)
    if spec is None:
        raise other_version(f"the command {kind}")
    return spec


def command_of(envelope: Envelope) -> Command:
    clean(envelope.body)
    try:
        return spec_of(envelope.kind).model.model_validate(envelope.body)
    except ValidationError as error:
        raise first_fault(error) from None


def body_digest(envelope: Envelope, key: bytes) -> str:
    """Tells whether an id came with another body. Keyed: withdrawn words can't be guessed from it."""
    said = rfc8785.dumps({"kind": envelope.kind, "for": envelope.for_person, "body": envelope.body})
    return hmac.digest(key, b"body\0" + said, hashlib.sha256).hex()


@dataclass(frozen=True)
class Swapped:
    """A command whose free words and photos are payload ids, and those payloads."""

    command: Command
    payloads: list[Kept]


def swap(command: Command) -> Swapped:
    """Free words and photos become payloads, and their ids stand in the command instead (R1)."""
    kept: dict[str, Kept] = {}
    for name in type(command).model_fields:
        value, kind = getattr(command, name), payloads.kind_of_field(name)
        if kind and isinstance(value, str):
            kept[name] = payloads.made(kind, value)
    return Swapped(command.model_copy(update={name: k.id for name, k in kept.items()}), list(kept.values()))
