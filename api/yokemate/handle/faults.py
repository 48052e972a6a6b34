"""What is wrong with a field, in plain words, and the remedy (R32): one sentence for every kind of fault that pydantic names.

Its own words are for programmers: whoever typed *about 12* wants to read that it is no number, and how one looks.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, get_args

from pydantic import StringConstraints

from yokemate.handle.shapes import CommandId, Kilograms, PersonId
from yokemate.planfile.model import Decimal, PlanId
from yokemate.rules.commands.fields import Digest, Id, Number, PhotoId
from yokemate.rules.hours import Clock

Words = tuple[str, str]
_GIVE_UP = "See what it takes in the REST document."


def _pattern_of(kind: Any) -> str:
    found = next(one.pattern for one in get_args(kind)[1:] if isinstance(one, StringConstraints))
    assert isinstance(found, str)
    return found


_AN_ID = ("this is no id.", "Use letters, digits and _ . : - only, no more than 80.")
_A_DIGEST = ("this is no SHA-256.", "Send its 64 digits, 0 to 9 and a to f.")
_LOOKS = {
    _pattern_of(Number): ("this is no number.", "Type a number, such as 92 or 92,5."),
    _pattern_of(Decimal): ("this is no number.", "Type a number, such as 92 or 92.5."),
    _pattern_of(Kilograms): ("this is no number of kg.", "Type a number, such as 15 or 12.5."),
    _pattern_of(Clock): ("this is no time of day.", "Type it such as 09:00."),
    _pattern_of(CommandId): ("this is no UUID.", "Send one such as 0199a7c2-5b1e-7d3a-9c40-3f2e1d0c9b8a."),
    _pattern_of(Id): _AN_ID,
    _pattern_of(PersonId): _AN_ID,
    _pattern_of(PlanId): (
        "this is no id of a plan.",
        "Begin with a letter; 40 letters, digits and _ . - at most.",
    ),
    _pattern_of(PhotoId): _A_DIGEST,
    _pattern_of(Digest): _A_DIGEST,
}


def _looks(said: Mapping[str, Any]) -> Words:
    return _LOOKS.get(said["pattern"], ("this is not how it is written.", _GIVE_UP))


def _too_short(said: Mapping[str, Any]) -> Words:
    least = said["min_length"]
    return (
        ("this is empty.", "Fill it in.") if least == 1 else ("this is too short.", f"Give {least} or more.")
    )


def _own_words(said: Mapping[str, Any]) -> Words:
    """What a check of ours says: the fault; after a semicolon the remedy."""
    fault, _, remedy = str(said["error"]).partition("; ")
    return (
        f"this {fault}.",
        f"{remedy[:1].upper()}{remedy[1:]}." if remedy else "Put it right and send it again.",
    )


_DAY = ("this is no day.", "Give one such as 2026-03-31.")
_WHOLE = ("this is no whole number.", "Give one such as 3, without quotation marks.")
_YES_NO = ("this is neither yes nor no.", "Send true or false.")
_LIST = ("this is no list.", "Send a list, in square brackets.")
_NAMED = ("this has no named fields.", "Send fields by their names, in curly brackets.")
_TEXT = ("this is no text.", "Send it in quotation marks.")
_SAYS: dict[str, Words | Callable[[Mapping[str, Any]], Words]] = {
    "missing": ("this is missing.", "Give it."),
    "extra_forbidden": ("there is no such field here.", "Leave it out."),
    "string_type": _TEXT,
    "string_unicode": _TEXT,
    "string_pattern_mismatch": _looks,
    "string_too_short": _too_short,
    "string_too_long": lambda said: (
        f"this is longer than {said['max_length']} characters.", "Say it in fewer words."
    ),
    "too_short": _too_short,
    "too_long": lambda said: (f"these are more than {said['max_length']}.", "Send fewer at a time."),
    "literal_error": lambda said: ("this is none of the choices.", f"Choose {said['expected']}."),
    "bool_type": _YES_NO,
    "bool_parsing": _YES_NO,
    "int_type": _WHOLE,
    "int_parsing": _WHOLE,
    "int_parsing_size": ("this number is too large.", "Give a smaller one."),
    "int_from_float": _WHOLE,
    "greater_than_equal": lambda said: (f"this is below {said['ge']}.", f"Give {said['ge']} or more."),
    "greater_than": lambda said: (f"this is not above {said['gt']}.", f"Give more than {said['gt']}."),
    "less_than_equal": lambda said: (f"this is above {said['le']}.", f"Give {said['le']} or less."),
    "less_than": lambda said: (f"this is not below {said['lt']}.", f"Give less than {said['lt']}."),
    "list_type": _LIST,
    "tuple_type": _LIST,
    "dict_type": _NAMED,
    "model_type": _NAMED,
    "model_attributes_type": _NAMED,
    "date_type": _DAY,
    "date_parsing": _DAY,
    "date_from_datetime_parsing": _DAY,
    "value_error": _own_words,
}  # fmt: skip


def fault_words(error: Mapping[str, Any]) -> Words:
    """Problem and remedy of one of pydantic's errors."""
    says = _SAYS.get(error["type"])
    if says is None:
        said = error["msg"]
        return f"{said[:1].lower()}{said[1:]}.", _GIVE_UP
    return says(error.get("ctx", {})) if callable(says) else says
