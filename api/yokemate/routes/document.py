"""The REST document (OpenAPI 3.1) with the shapes of rows and commands; the web types come from it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from pydantic import BaseModel
from pydantic.json_schema import JsonSchemaMode, models_json_schema

from yokemate.handle.shapes import Envelope
from yokemate.routes.commands import OWN_ROUTES
from yokemate.routes.problems import Problem
from yokemate.routes.refused import listed
from yokemate.rules.frame import COMMANDS
from yokemate.rules.rows import ROWS

TEMPLATE = "#/components/schemas/{model}"
JSON = "application/json"
EXAMPLES = Path(__file__).with_name("examples.json")  # recorded by `tests/support/rest_examples.py`


def install(app: FastAPI) -> None:
    made: dict[str, Any] = {}
    plain = app.openapi

    def document() -> dict[str, Any]:
        if not made:
            made.update(plain())
            _add_shapes(made)
            _add_not_json(made)
            _add_examples(made)
        return made

    app.openapi = document  # type: ignore[method-assign]


def _add_not_json(document: dict[str, Any]) -> None:
    """Judged before any route, for all that changes something, with a body or without (`routes/guard.py`)."""
    refused = {str(status): answer for status, answer in listed("not_json").items()}
    for methods in document["paths"].values():
        for method, operation in methods.items():
            if method != "get":
                operation["responses"] = {**refused, **operation["responses"]}


def _add_examples(document: dict[str, Any]) -> None:
    """Beside each body and each answer that went well: what was really sent and answered once."""
    kept = json.loads(EXAMPLES.read_text(encoding="utf-8"))
    for methods in document["paths"].values():
        for operation in methods.values():
            example = kept.get(operation["operationId"], {})
            for said, place in (
                ("sent", operation.get("requestBody")),
                ("answer", operation["responses"]["200"]),
            ):
                shown = (place or {}).get("content", {}).get(JSON)
                if said in example and shown is not None:
                    shown["example"] = example[said]


def shapes_only(document: dict[str, Any]) -> dict[str, Any]:
    """The shapes that the web app's types are made from: without routes, and without what surrounds a
    command on a route of its own."""
    shapes = document["components"]["schemas"]
    around = tuple(f"{spec.model.__name__}{end}" for spec in COMMANDS.values() for end in ("Sent", "Fields"))
    wanted = {name: shape for name, shape in shapes.items() if name not in around}
    return {
        **{name: document[name] for name in ("openapi", "info")},
        "paths": {},
        "components": {"schemas": wanted},
    }


def _add_shapes(document: dict[str, Any]) -> None:
    """Rows and commands are not the body of any one route: they travel inside an exchange."""
    models: list[tuple[type[BaseModel], JsonSchemaMode]] = [(row, "serialization") for row in ROWS.values()]
    models += [(spec.model, "validation") for spec in COMMANDS.values() if spec.kind not in OWN_ROUTES]
    models += [(Envelope, "validation"), (Problem, "serialization")]
    _, shapes = models_json_schema(models, ref_template=TEMPLATE)
    schemas = document["components"]["schemas"]
    for name, shape in shapes["$defs"].items():
        schemas.setdefault(name, shape)
    kinds = {
        spec.kind: TEMPLATE.format(model=spec.model.__name__)
        for spec in COMMANDS.values()
        if spec.sent != "now"
    }
    listed = "\n".join(f"- `{kind}`: {COMMANDS[kind].says}" for kind in kinds)
    exchange = schemas["Exchange"]["properties"]["commands"]
    exchange["items"] = {"$ref": TEMPLATE.format(model="Envelope")}
    exchange["description"] = f"Commands that may wait on a phone; `body` holds their fields:\n{listed}"
