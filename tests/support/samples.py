"""One well-formed body for every command of the registry, made from its model: enough to be judged, not to succeed."""

from __future__ import annotations

import types
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, StringConstraints
from pydantic.fields import FieldInfo

from yokemate.rules.frame import CommandSpec

# Where the kind of a value says too little: something that stands in the small plan, or passes a pattern.
BY_NAME: dict[str, Any] = {
    "task": "T1", "lift": "L1", "until_ms": 1_764_000_060_000, "when_ms": 1_764_000_060_000, "photo": "0" * 64,
    "list_digest": "0" * 64, "readings_digest": "0" * 64, "payload": "0" * 64, "steps": ["a"], "step": "a",
    "side": "left", "checks": ["C1"], "readings_digests": {"G1": "0" * 64},
    "places": {"caller": "nobody"}, "confirmed": ["said"],
}  # fmt: skip


def body_of(spec: CommandSpec) -> dict[str, Any]:
    """Every required field and no other."""
    made = {
        name: _field(name, field) for name, field in spec.model.model_fields.items() if field.is_required()
    }
    spec.model.model_validate(made)
    return made


def _field(name: str, field: FieldInfo) -> Any:
    return BY_NAME[name] if name in BY_NAME else _value(field.rebuild_annotation())


def _value(kind: Any) -> Any:
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        patterns = [one.pattern for one in inner[1:] if isinstance(one, StringConstraints) and one.pattern]
        return "1" if patterns else _value(inner[0])
    if origin is Literal:
        return inner[0]
    if origin in (Union, types.UnionType):
        return _value(inner[0])
    if origin is list:
        return [_value(inner[0])]
    if origin is dict:
        return {}
    if origin is tuple:
        return [_value(one) for one in inner]
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return {
            name: _value(f.rebuild_annotation()) for name, f in kind.model_fields.items() if f.is_required()
        }
    return {str: "1", int: 1, bool: True}[kind]
