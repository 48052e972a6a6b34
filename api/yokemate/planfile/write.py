"""Plan → text of a plan file. What the text says when read again is the same plan."""

from __future__ import annotations

import re
from typing import Any

from yokemate.planfile.model import Plan

_WIDTH = 140  # an entry that fits into one line stands in one line
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 _./%+()·-]*[A-Za-z0-9_.%+()])?|-?[0-9][0-9.]*")
_NOTHING = ("null", "Null", "NULL")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def write(plan: Plan) -> str:
    """YAML, one entry a line where it fits. Fields that have their default are left out."""
    data = {"format": plan.format, **plan.model_dump(mode="json", exclude_defaults=True)}
    return "".join(_field(name, value, "") for name, value in data.items())


def _field(name: str, value: Any, indent: str) -> str:
    inline = f"{indent}{_scalar(name)}: {_flow(value)}\n"
    if not _in_block(value) and (len(inline) <= _WIDTH or not _nested(value)):
        return inline
    if isinstance(value, dict):
        return f"{indent}{_scalar(name)}:\n" + "".join(_field(k, v, indent + "  ") for k, v in value.items())
    return f"{indent}{_scalar(name)}:\n" + "".join(_entry(one, indent) for one in value)


def _entry(value: Any, indent: str) -> str:
    inline = f"{indent}- {_flow(value)}\n"
    if not isinstance(value, dict) or (
        len(inline) <= _WIDTH and not any(_in_block(v) for v in value.values())
    ):
        return inline
    lines = "".join(_field(k, v, indent + "  ") for k, v in value.items())
    return f"{indent}- {lines[len(indent) + 2 :]}"


def _in_block(value: Any) -> bool:
    """Lists of entries stand one a line."""
    return isinstance(value, list) and len(value) > 1 and all(isinstance(v, dict) for v in value)


def _nested(value: Any) -> bool:
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return any(isinstance(v, dict | list) for v in inner)


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_scalar(k)}: {_flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(v) for v in value) + "]"
    return _scalar(value)


def _scalar(value: str | int | bool | None) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if _PLAIN.fullmatch(value) and value not in _NOTHING:
        return value
    return '"' + "".join(_ESCAPES.get(c) or (c if _printable(c) else _escaped(c)) for c in value) + '"'


def _printable(c: str) -> bool:
    n = ord(c)
    return 0x20 <= n <= 0x7E or (0xA0 <= n <= 0xFFFD and n not in (0x2028, 0x2029, 0xFEFF)) or n >= 0x10000


def _escaped(c: str) -> str:
    return f"\\x{ord(c):02X}" if ord(c) < 0x100 else f"\\u{ord(c):04X}"
