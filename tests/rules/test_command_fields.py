"""What the fields of commands may hold, over the whole registry: free words are payloads (R1), nothing is endless (R32)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import ValidationError

import yokemate.rules.all  # noqa: F401  (fills the registry)
from support.samples import body_of
from yokemate.rules.frame import COMMANDS
from yokemate.store.payloads import kind_of_field

WORDS = "ask Bram, he knows: 9 o'clock?"  # no id, no number, nothing that any list of choices holds
IN_THE_ENTRY = {  # words that stand in the entry itself, and why
    ("build.make", "name"), ("build.change", "name"),  # the build's own name
    ("build.make", "time_zone"), ("build.change", "time_zone"),  # checked against the list of zones
    ("lift.rearrange", "way"),  # compared with the ways that were shown, never kept
    ("gate.propose", "confirmed"),  # compared with the plan's lines, never kept
    ("wrench.enter", "name"),  # what the tool is called, on its label and on every reading
    ("evidence.keep", "asks"),  # swapped before it is made
    ("plan.load", "plan"),  # plan text stands in the entry
}  # fmt: skip


def fields() -> Iterator[tuple[str, str, dict[str, Any], dict[str, Any]]]:
    for kind, spec in COMMANDS.items():
        schema = spec.model.model_json_schema()
        for name, field in schema["properties"].items():
            yield kind, name, field, schema.get("$defs", {})


def parts(field: dict[str, Any], defs: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """A field's schema and every schema inside it."""
    if "$ref" in field:
        yield from parts(defs[field["$ref"].rpartition("/")[2]], defs)
        return
    yield field
    inner = [*field.get("anyOf", []), *field.get("prefixItems", []), *field.get("properties", {}).values()]
    inner += [field[key] for key in ("items", "propertyNames") if isinstance(field.get(key), dict)]
    if isinstance(more := field.get("additionalProperties"), dict):
        inner.append(more)
    for one in inner:
        yield from parts(one, defs)


def is_bounded(schema: dict[str, Any]) -> bool:
    return bool(schema.keys() & {"maxLength", "pattern", "enum", "const"}) or schema.get("format") == "date"


def test_r32_no_command_takes_words_without_end() -> None:
    endless = {
        (kind, name)
        for kind, name, field, defs in fields()
        for one in parts(field, defs)
        if one.get("type") == "string" and not is_bounded(one)
        if (kind, name)
        not in {("plan.load", "plan"), ("evidence.keep", "asks")}  # bounded where they come in
    }
    assert endless == set()


def takes(kind: str, name: str, value: Any) -> bool:
    model = COMMANDS[kind].model
    try:
        model.model_validate(body_of(COMMANDS[kind]) | {name: value})
    except ValidationError as wrong:
        return not any(error["loc"][0] == name for error in wrong.errors())
    return True


def test_r1_free_words_stand_in_payloads_alone() -> None:
    """A field that takes a sentence is one whose words are swapped for a payload before anything is told."""
    free = {
        (kind, name)
        for kind, name, field, defs in fields()
        if any(one.get("type") == "string" for one in parts(field, defs))
        if takes(kind, name, WORDS) or takes(kind, name, [WORDS])
    }
    kept = {(kind, name) for kind, name in free if kind_of_field(name) != "text"}
    moved = {("hazard.hang_tag", "what"), ("lift.weigh", "how_known")}  # from phones of before, into payloads
    assert kept - IN_THE_ENTRY - moved == set()


@pytest.mark.parametrize("value", ["yes", 1, "true", 0])
def test_r32_yes_is_no_truth(value: Any) -> None:
    """A switch is true or false, not a word or a number that could be read as one."""
    lax = {
        (kind, name)
        for kind, name, field, defs in fields()
        if any(one.get("type") == "boolean" for one in parts(field, defs)) and takes(kind, name, value)
    }
    assert lax == set()


def test_r1_what_waits_on_phones_of_before_is_taken_as_words() -> None:
    """An outbox filled before an update: what it said in words is a payload now."""
    tag = COMMANDS["hazard.hang_tag"].model.model_validate({"what": "the starter's lead"})
    assert tag.model_dump() == {"what": "other", "what_text": "the starter's lead"}
    assert (
        COMMANDS["hazard.hang_tag"].model.model_validate({"what": "battery"}).model_dump()["what_text"]
        is None
    )
    load = {"lift": "L1", "mass_kg": "84", "cg_x_mm": "1", "cg_y_mm": "0"}
    weighed = COMMANDS["lift.weigh"].model.model_validate(load | {"how_known": "two scales"})
    assert weighed.model_dump()["how_known_text"] == "two scales"
