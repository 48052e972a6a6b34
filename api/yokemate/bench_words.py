"""The Bench in plain text, for the command line: the list of calculations, one described, one worked out."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator, Sequence

from yokemate.calc.catalogue import Argument, Entry, Result, catalogue
from yokemate.calc.compute import compute, from_words


def bench_words(name: str | None, words: Sequence[str], answer_in: Sequence[str]) -> str:
    """List, describe, or compute: `calc sling_leg load_kg="186 kg" angle_deg="60 deg"`."""
    entries = catalogue()
    if name is None:
        return "\n".join(f"{entry.name:24} {entry.title}" for entry in entries.values())
    if name not in entries:
        near = difflib.get_close_matches(name, entries, 3)
        raise LookupError(f"there is no calculation {name}. Near it: {', '.join(near) or 'none'}.")
    if not words and any(not argument.optional for argument in entries[name].args):
        return "\n".join(_described(entries[name]))
    written = words[0] if len(words) == 1 else ""
    inputs = json.loads(written) if written.startswith("{") else from_words(words)
    return json.dumps(compute(name, inputs, answer_in), ensure_ascii=False, indent=2)


def _described(entry: Entry) -> Iterator[str]:
    yield f"{entry.title}\n\nFormula: {entry.formula}\nSource: {entry.source}\n\nInputs:"
    yield from _asked(entry.args, "  ")
    yield "\nAnswer:"
    yield from _told(entry.result, "  ")
    yield f"\nExample:\n{entry.example}"


def _asked(arguments: Sequence[Argument], indent: str) -> Iterator[str]:
    for argument in arguments:
        reach = f", {argument.low} to {argument.high}" if argument.low is not None else ""
        offered = f"; one of: {', '.join(argument.choices)}" if argument.choices else ""
        default = f" (else {argument.default or 'left out'})" if argument.optional else ""
        yield f"{indent}{argument.name}{_unit(argument.unit)}: {argument.text}{reach}{offered}{default}"
        if argument.columns:
            yield f"{indent}  a JSON list of objects, each with:"
            yield from _asked(argument.columns, f"{indent}  ")


def _told(result: Result, indent: str, within: bool = False) -> Iterator[str]:
    if not result.fields:
        several = " (a list)" if result.many else ""
        yield f"{indent}{result.name}{_unit(result.unit)}{several}: {result.text}"
        return
    if result.many:
        yield f"{indent}{result.name if within else 'a list'}, each with:"
        indent += "  "
    for part in result.fields:
        yield from _told(part, indent, within=True)


def _unit(unit: str) -> str:
    return "" if unit == "-" else f" [{unit}]"
