"""The REST document's examples: each operation has its own, and each is what its schema says."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from support.phones import Garage
from yokemate.routes.document import EXAMPLES, JSON


def places(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Where JSON is sent, and where it is answered when all went well."""
    for methods in document["paths"].values():
        for operation in methods.values():
            name = operation["operationId"]
            for said, place in (
                ("sent", operation.get("requestBody")),
                ("answer", operation["responses"]["200"]),
            ):
                if place is not None and JSON in place.get("content", {}):
                    yield f"{name} {said}", place["content"][JSON]


@pytest.fixture
def document(plain: Garage) -> dict[str, Any]:
    return plain.app.openapi()


def test_every_body_and_every_answer_has_an_example_that_its_schema_takes(document: dict[str, Any]) -> None:
    """R32: what the document shows can be sent, and is what comes back. Recorded anew by `python -m support.rest_examples`."""
    wrong, lacks = {}, []
    for name, place in places(document):
        if "example" not in place:
            lacks.append(name)
            continue
        schema = Draft202012Validator({**place["schema"], "components": document["components"]})
        if faults := [
            f"{fault.json_path}: {fault.message[:200]}" for fault in schema.iter_errors(place["example"])
        ]:
            wrong[name] = faults
    assert (wrong, lacks) == ({}, [])


def test_no_example_is_left_of_what_is_gone(document: dict[str, Any]) -> None:
    known = {name for name, _ in places(document)}
    kept = json.loads(EXAMPLES.read_text(encoding="utf-8"))
    assert {f"{name} {said}" for name, one in kept.items() for said in one} <= known
