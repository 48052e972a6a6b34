"""What a docstring of this room promises, as data.

Every public function says its formula, a unit in square brackets for each argument and result, the range
after the last semicolon (`low..high`), its source and an example. One that is easier to look at than to read
says which picture it has, and whose answer that draws if not its own; one that rests on what is known as a range
only says how many figures of its answer mean something, and why. Forms, command line and REST are made from this.
"""

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from itertools import takewhile
from typing import Any, Literal, get_args

_LINE = re.compile(r"^([a-z_0-9]+) \[([^\]]+)\]: (.*)$")
_RANGE = re.compile(r"^(.*); (-?[0-9.]+)\.\.(-?[0-9.]+)$")
_SECTION = re.compile(r"^(Formula|Args|Fields|Returns|Figures|Picture|Source|Example):(?: (.*))?$")
_FIGURES = re.compile(r"^(\d) because (.+)$")
_PICTURE = re.compile(r"^([a-z_]+)(?: of ([a-z_]+))?$")

Picture = Literal["bolt_pattern", "lift_from_above", "sling", "belt", "cut_bars"]


@dataclass(frozen=True)
class Described:
    """One argument, result or field: its name, unit id (or `-`), text, and range if it is a number given."""

    name: str
    unit: str
    text: str
    low: str | None = None
    high: str | None = None


@dataclass(frozen=True)
class Promise:
    """A docstring taken apart. `returns` is either the name of a result class or one described value;
    `picture_of` is the calculation whose answer the picture draws, empty for its own.
    """

    title: str
    formula: str
    args: tuple[Described, ...]
    fields: tuple[Described, ...]
    returns: str | Described | None
    picture: Picture | None
    picture_of: str
    source: str
    example: str
    figures: int | None = None
    figures_why: str = ""


def read_promise(thing: Callable[..., Any] | type) -> Promise:
    """Take the docstring of a function or a dataclass of this room apart."""
    lines = (inspect.getdoc(thing) or "").split("\n")
    sections: dict[str, list[str]] = {}
    current: list[str] | None = None
    for line in lines:
        match = _SECTION.match(line)
        if match:
            current = sections.setdefault(match.group(1), [match.group(2) or ""])
        elif current is not None:
            current.append(line)
    result = " ".join(part.strip() for part in sections.get("Returns", [])).strip()
    described = _described(sections.get("Returns", []))
    picture, picture_of = _picture(sections.get("Picture", []))
    figures = _FIGURES.match(" ".join(part.strip() for part in sections.get("Figures", [])))
    assert figures is not None or "Figures" not in sections
    return Promise(
        title=" ".join(takewhile(str.strip, lines)).rstrip("."),
        formula=" ".join(part.strip() for part in sections.get("Formula", [])).strip(),
        args=_described(sections.get("Args", [])),
        fields=_described(sections.get("Fields", [])),
        returns=described[0] if described else (result or None),
        picture=picture,
        picture_of=picture_of,
        source=" ".join(part.strip() for part in sections.get("Source", [])).strip(),
        example="\n".join(line.strip() for line in sections.get("Example", [])).strip(),
        figures=int(figures.group(1)) if figures else None,
        figures_why=figures.group(2) if figures else "",
    )


def _picture(lines: list[str]) -> tuple[Picture | None, str]:
    if not lines:
        return None, ""
    match = _PICTURE.match(" ".join(lines).strip())
    assert match is not None
    known: dict[str, Picture] = {name: name for name in get_args(Picture)}
    return known[match.group(1)], match.group(2) or ""


def _described(lines: list[str]) -> tuple[Described, ...]:
    joined: list[str] = []
    for line in lines:
        text = line.strip()
        if _LINE.match(text):
            joined.append(text)
        elif joined:
            joined[-1] += f" {text}"
    found = []
    for text in joined:
        match = _LINE.match(text)
        assert match is not None
        name, unit, words = match.groups()
        bounds = _RANGE.match(words)
        if bounds:
            found.append(Described(name, unit, bounds.group(1), bounds.group(2), bounds.group(3)))
        else:
            found.append(Described(name, unit, words))
    return tuple(found)
