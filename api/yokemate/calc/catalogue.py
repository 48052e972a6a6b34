"""The list of all calculations that are offered, made from their docstrings and signatures."""

import inspect
import types
import typing
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass, fields, is_dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any, Literal

from yokemate.calc import (
    belt,
    cutting,
    drills,
    estimates,
    fluids,
    follow_ups,
    hose,
    inches,
    let_go,
    lifting,
    lifting_filter,
    long_form,
    masses,
    niosh,
    pattern,
    prevailing,
    rigging,
    scale,
    sling_tables,
    slope,
    sockets,
    statics,
    threads,
    torque,
    torque_wrench,
    wire,
)
from yokemate.calc.contract import Described, Picture, read_promise
from yokemate.calc.errors import CalcError
from yokemate.calc.hazards import hazards_of
from yokemate.units import UNITS

Kind = Literal["number", "exact", "whole", "choice", "text", "yes_no", "day", "numbers", "texts", "rows"]

# Subject as screens name it: the module, in the order offered.
_SUBJECTS: dict[str, Any] = {
    "Threads and strength": threads,
    "Torque and preload": torque,
    "Torque by friction": long_form,
    "Nuts that drag": prevailing,
    "Torque wrench": torque_wrench,
    "Scale of a torque wrench": scale,
    "Pattern and passes": pattern,
    "Sockets": sockets,
    "Usual masses": masses,
    "Load shares": statics,
    "One lets go": let_go,
    "Slope and centre of gravity": slope,
    "One person's limit": niosh,
    "Lifting filter": lifting_filter,
    "People and judgement": lifting,
    "Slings, cranes, stands": rigging,
    "Sling ratings": sling_tables,
    "Fractions of an inch": inches,
    "Drills": drills,
    "Wire": wire,
    "Hose": hose,
    "Belt": belt,
    "Cutting": cutting,
    "Fluids": fluids,
    "Follow-ups": follow_ups,
    "Estimates": estimates,
}


@dataclass(frozen=True)
class Argument:
    """One input: what a form needs to ask for it. `columns` describes the rows of a table."""

    name: str
    kind: Kind
    unit: str
    dimension: str
    text: str
    low: str | None
    high: str | None
    optional: bool
    default: str | None
    choices: tuple[str, ...] = ()
    columns: tuple["Argument", ...] = ()
    label: str = ""  # its name as a form writes it; no two of one form, row or record read the same


@dataclass(frozen=True)
class Result:
    """One output. `many` when there is a list of it; `fields` when it is made of parts; `label` as of an argument."""

    name: str
    unit: str
    text: str
    many: bool
    fields: tuple["Result", ...] = ()
    label: str = ""


@dataclass(frozen=True)
class Entry:
    """One calculation. `picture_of`: whose answer its picture draws; `hazards`: of the work that it is about; `figures`: how
    many figures of the answer mean something, where it rests on what is known as a range.
    """

    name: str
    title: str
    subject: str
    formula: str
    source: str
    example: str
    args: tuple[Argument, ...]
    result: Result
    picture: Picture | None = None
    picture_of: str = ""
    hazards: tuple[str, ...] = ()
    figures: int | None = None
    figures_why: str = ""


@cache
def catalogue() -> dict[str, Entry]:
    """Every calculation by name."""
    return {name: _entry(name, subject, function) for name, (subject, function) in _functions().items()}


def function(name: str) -> Callable[..., Any]:
    """The calculation of this name; CalcError when there is none."""
    found = _functions().get(name)
    if found is None:
        raise CalcError("name", f"there is no calculation '{name}'.", "Ask for the list.")
    return found[1]


def as_json() -> list[dict[str, Any]]:
    """The whole catalogue as plain data."""
    return [asdict(entry) for entry in catalogue().values()]


@cache
def _functions() -> dict[str, tuple[str, Callable[..., Any]]]:
    found: dict[str, tuple[str, Callable[..., Any]]] = {}
    for subject, module in _SUBJECTS.items():
        for name, thing in vars(module).items():
            if (
                inspect.isfunction(thing)
                and thing.__module__ == module.__name__
                and read_promise(thing).formula
            ):
                found[name] = (subject, thing)
    return found


def _entry(name: str, subject: str, calculation: Callable[..., Any]) -> Entry:
    promise = read_promise(calculation)
    hints = typing.get_type_hints(calculation)
    described = {arg.name: arg for arg in promise.args}
    args = _labelled(
        _argument(described[key], hints[key], parameter.default)
        for key, parameter in inspect.signature(calculation).parameters.items()
    )
    result = _result(hints["return"], promise.returns)
    return Entry(
        name,
        promise.title,
        subject,
        promise.formula,
        promise.source,
        promise.example,
        args,
        result,
        promise.picture,
        (promise.picture_of or name) if promise.picture else "",
        hazards_of(subject, name),
        promise.figures,
        promise.figures_why,
    )


def _argument(described: Described, hint: Any, default: Any) -> Argument:
    optional = default is not inspect.Parameter.empty
    inner = [part for part in typing.get_args(hint) if part is not type(None)]
    if typing.get_origin(hint) is types.UnionType and len(inner) == 1:
        hint = inner[0]
    choices: tuple[str, ...] = ()
    columns: tuple[Argument, ...] = ()
    kind: Kind
    if typing.get_origin(hint) is Literal:
        kind, choices = "choice", tuple(typing.get_args(hint))
    elif typing.get_origin(hint) is Sequence:
        (row,) = typing.get_args(hint)
        if is_dataclass(row):
            kind, columns = "rows", _columns(row)  # type: ignore[arg-type]
        else:
            kind = "texts" if row is str else "numbers"
    else:
        kinds: dict[Any, Kind] = {
            float: "number",
            Fraction: "exact",
            int: "whole",
            str: "text",
            bool: "yes_no",
            date: "day",
        }
        kind = kinds[hint]
    return Argument(
        described.name,
        kind,
        described.unit,
        UNITS[described.unit].dimension if described.unit in UNITS else "",
        described.text,
        described.low,
        described.high,
        optional,
        None if default in (inspect.Parameter.empty, None) else str(default),
        choices,
        columns,
    )


def _columns(row: type) -> tuple[Argument, ...]:
    hints = typing.get_type_hints(row)
    described = {field.name: field for field in read_promise(row).fields}
    return _labelled(
        _argument(
            described[field.name],
            hints[field.name],
            inspect.Parameter.empty
            if repr(field.default).startswith("<dataclasses._MISSING")
            else field.default,
        )
        for field in fields(row)
    )


def _result(hint: Any, returns: str | Described | None) -> Result:
    if typing.get_origin(hint) is types.UnionType:  # or None
        hint = typing.get_args(hint)[0]
    many = typing.get_origin(hint) is tuple
    if many:
        hint = typing.get_args(hint)[0]
    if is_dataclass(hint):
        return Result(getattr(hint, "__name__", ""), "-", "", many, _result_fields(hint))  # type: ignore[arg-type]
    assert isinstance(returns, Described)
    return _labelled([Result(returns.name, returns.unit, returns.text, many)])[0]


def _result_fields(cls: type) -> tuple[Result, ...]:
    hints = typing.get_type_hints(cls)
    found = []
    for field in read_promise(cls).fields:
        hint = hints[field.name]
        many = typing.get_origin(hint) is tuple
        if many:
            hint = typing.get_args(hint)[0]
        parts = _result_fields(hint) if is_dataclass(hint) else ()  # type: ignore[arg-type]
        found.append(Result(field.name, field.unit, field.text, many, parts))
    return _labelled(found)


_WRITTEN = {"cog": "centre of gravity", "awg": "AWG", "sae": "SAE"}
_One = typing.TypeVar("_One", Argument, Result)


def _labelled(parts: Iterable[_One]) -> tuple[_One, ...]:
    """With what each is called: its name without the unit, and with what it measures where another is called the same."""
    those = list(parts)
    bare = [_words(one.name, one.unit) for one in those]
    return tuple(
        replace(
            one, label=f"{said}, {_measured(one.unit)}" if bare.count(said) > 1 and one.unit != "-" else said
        )
        for one, said in zip(those, bare, strict=True)
    )


def _words(name: str, unit: str) -> str:
    """`cog_x_mm` in mm is "Centre of gravity x"."""
    said = " ".join(_WRITTEN.get(word, word) for word in name.removesuffix(f"_{unit}").split("_"))
    return said[:1].upper() + said[1:]


def _measured(unit: str) -> str:
    return "percent" if unit == "percent" else UNITS[unit].dimension
