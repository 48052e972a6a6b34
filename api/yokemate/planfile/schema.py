"""The JSON Schema of a plan file, for editors. It is made from the model; a test holds the committed copy to it."""

from __future__ import annotations

import json
from typing import Any

from yokemate.planfile.model import Plan


def plan_schema() -> dict[str, Any]:
    """JSON Schema 2020-12. Numbers may stand with or without quotes: the reader keeps them as written."""
    schema = Plan.model_json_schema()
    _numbers_unquoted(schema)
    schema["required"] = ["format", *schema["required"]]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def schema_text() -> str:
    return json.dumps(plan_schema(), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _numbers_unquoted(part: Any) -> None:
    if isinstance(part, dict):
        is_id = str(part.get("pattern", "")).startswith("^[A-Za-z]")
        if part.get("type") == "string" and not is_id and "const" not in part and "enum" not in part:
            part["type"] = ["string", "number"]
        for inner in part.values():
            _numbers_unquoted(inner)
    elif isinstance(part, list):
        for inner in part:
            _numbers_unquoted(inner)
