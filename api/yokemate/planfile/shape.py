"""Errors of shape (a missing field, a word that is not in the list, a number that is none) in plan words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from yokemate.planfile.findings import Finding, Loc, nearest, words
from yokemate.planfile.model import Plan

_DECIMAL = r"^-?\d{1,9}(\.\d{1,6})?$"
_ID = r"^[A-Za-z][A-Za-z0-9_.-]{0,39}$"


def finding_of(error: ErrorDetails, data: object) -> Finding:
    """One validation error of the model as a finding. `data` is what was read, for ids in the words."""
    loc: Loc = tuple(k for k in error["loc"] if k != "[key]")
    says, remedy = _sentence(error, loc)
    return Finding("error", error["type"], loc, words(data, loc), says, remedy)


def _sentence(error: ErrorDetails, loc: Loc) -> tuple[str, str]:
    kind = error["type"]
    context: Mapping[str, object] = error.get("ctx", {})
    given = error.get("input")
    shown = f'"{given}"' if isinstance(given, str) else "this"
    if kind == "missing" and isinstance(loc[-1], int):
        return (
            "figures are missing.",
            f"Write {'[x, y]' if 'outline_mm' in loc else '[quick, likely, slow]'}.",
        )
    if kind == "missing":
        return "this field is missing.", f"Add `{loc[-1]}: ...`."
    if kind == "extra_forbidden":
        known = _fields_at(loc[:-1])
        return "there is no such field.", nearest(str(loc[-1]), known) or f"Known here: {', '.join(known)}."
    if kind == "literal_error":
        offered = str(context.get("expected", "")).replace("'", "").replace(" or ", ", ")
        near = nearest(str(given), offered.split(", "))
        return f"{shown} is not one of the words that may stand here.", f"{near} Words: {offered}.".strip()
    if kind == "string_pattern_mismatch":
        if context.get("pattern") == _DECIMAL:
            return (
                f"{shown} is not a plain number.",
                "Write it with a point and without a unit, as 44 or 7.5.",
            )
        if context.get("pattern") == _ID:
            return (
                f"{shown} cannot be an id.",
                "Begin with a letter; then letters, digits, - _ . (at most 40 in all).",
            )
        return f"{shown} is not a length.", "Write 240, 7.5 or, in inches, 9 5/8."
    if kind in ("string_type", "none_required") or (given is None and kind.endswith("_type")):
        return "this field is empty or holds the wrong thing.", "Write the text, or take the line away."
    if kind in ("int_parsing", "int_type", "int_from_float"):
        return f"{shown} is not a whole number.", "Write a whole number, as 2."
    if kind in ("bool_parsing", "bool_type"):
        return f"{shown} is neither true nor false.", "Write true or false."
    if kind in ("list_type", "tuple_type"):
        return "a list must stand here.", "Write [a, b], or one entry a line, each after a dash."
    if kind in ("model_type", "dict_type", "model_attributes_type"):
        return "names with values must stand here.", "Write {name: value}."
    if kind in ("greater_than_equal", "less_than_equal"):
        limit = context.get("ge", context.get("le"))
        return f"{shown} is out of range.", f"At {'least' if 'ge' in context else 'most'} {limit}."
    if kind in ("too_short", "too_long"):
        limit = context.get("min_length", context.get("max_length"))
        word = "few" if kind == "too_short" else "many"
        return f"too {word} entries.", f"At {'least' if kind == 'too_short' else 'most'} {limit}."
    if kind in ("string_too_short", "string_too_long"):
        limit = context.get("min_length", context.get("max_length"))
        if limit == 1 and kind == "string_too_short":
            return "this field is empty.", "Write the text, or take the line away."
        return f"the text is too {kind.rsplit('_', 1)[1]}.", f"The limit is {limit} characters."
    return f"{error['msg'][:1].lower()}{error['msg'][1:]}.", "Put it right and load again."


def _fields_at(loc: Loc) -> list[str]:
    """The names of fields that the model knows at a place."""
    model: type[BaseModel] = Plan
    for key in loc:
        if isinstance(key, str) and key in model.model_fields:
            inner = _model_in(model.model_fields[key].annotation)
            if inner is not None:
                model = inner
    return list(model.model_fields)


def _model_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in get_args(annotation):
        found = _model_in(inner)
        if found is not None:
            return found
    return None
