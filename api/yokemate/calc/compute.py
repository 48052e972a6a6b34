"""Any calculation by name, from plain data to plain data: for forms, the command line and REST.

A figure that has a unit must be given with one: `"50 N·m"`, or `{"value": "50", "unit": "n_m"}`. A bare
number is refused, because nobody can tell 50 N·m from 50 lbf·ft by looking. Results carry their units, and so
do the inputs as they were understood: each in its own unit, defaults filled in.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from inspect import signature
from typing import Any, get_args, get_type_hints

from yokemate.calc.catalogue import Argument, Entry, Result, catalogue, function
from yokemate.calc.errors import CalcError
from yokemate.units import (
    MOST_DECIMALS,
    UNITS,
    QuantityError,
    convert_exact,
    exact_decimal,
    parse_number,
    parse_quantity,
    units_of,
)


def compute(name: str, inputs: Mapping[str, Any], answer_in: Sequence[str] = ()) -> dict[str, Any]:
    """Run one calculation. Inputs by argument name; the answer is JSON-ready, each figure with its unit.

    `answer_in` names units wanted for the answer, at most one of each dimension; what they do not fit stays.
    """
    calculation = function(name)
    entry = catalogue()[name]
    known = {argument.name for argument in entry.args}
    for given in inputs:
        if given not in known:
            raise CalcError(
                given, f"{name} has no input of this name.", f"Inputs: {', '.join(sorted(known))}."
            )
    wanted = _wanted(answer_in)
    hints = get_type_hints(calculation)
    defaults = signature(calculation).parameters
    values: dict[str, Any] = {}
    for argument in entry.args:
        if argument.name in inputs and inputs[argument.name] is not None:
            values[argument.name] = _value(
                argument, inputs[argument.name], hints[argument.name], argument.name
            )
        elif not argument.optional:
            raise CalcError(argument.name, "is missing.", argument.text)
        elif defaults[argument.name].default is not None:
            values[argument.name] = defaults[argument.name].default
    answer = calculation(**values)
    return {
        "name": name,
        "inputs": {
            argument.name: _understood(argument, values[argument.name])
            for argument in entry.args
            if argument.name in values
        },
        "result": _plain(answer, entry.result, wanted),
        "drawn": _drawn(entry, values, answer),
        "drawn_in": _drawn_in(wanted),
        "formula": entry.formula,
        "source": entry.source,
    }


def _wanted(answer_in: Sequence[str]) -> dict[str, str]:
    """The unit wanted for each dimension."""
    wanted: dict[str, str] = {}
    for unit in answer_in:
        if unit not in UNITS:
            raise CalcError("answer_in", f"'{unit}' is not a unit offered.", "Take one of those listed.")
        wanted[UNITS[unit].dimension] = unit
    return wanted


def _drawn(entry: Entry, values: Mapping[str, Any], answer: Any) -> Any:
    """The answer that the picture draws, always in its own units; None without a picture."""
    if entry.picture is None:
        return None
    if entry.picture_of == entry.name:
        return _plain(answer, entry.result, {})
    other = catalogue()[entry.picture_of]
    taken = {argument.name: values[argument.name] for argument in other.args if argument.name in values}
    return _plain(function(other.name)(**taken), other.result, {})


def _drawn_in(wanted: Mapping[str, str]) -> dict[str, dict[str, Any]]:
    """For the words in a picture: the unit wanted instead of the one that is drawn in, and how many of it one is."""
    drawn = {units_of(dimension)[0].id: unit for dimension, unit in wanted.items()}
    return {
        own: {"name": UNITS[unit].label, "per": float(convert_exact(1, own, unit))}
        for own, unit in drawn.items()
        if own != unit
    }


def from_words(words: Sequence[str]) -> dict[str, Any]:
    """Inputs from `name=value unit` words, as typed at a command line; a value that begins with [ is a JSON list."""
    inputs: dict[str, Any] = {}
    for word in words:
        name, equals, value = word.partition("=")
        if not equals or not name:
            raise CalcError("inputs", f"'{word}' is not name=value.", "Write it like torque_n_m=50 N·m.")
        inputs[name.strip()] = _listed(name.strip(), value.strip())
    return inputs


def _listed(name: str, value: str) -> Any:
    if not value.startswith("["):
        return value
    try:
        return json.loads(value)
    except ValueError as wrong:
        raise CalcError(name, f"is not JSON: {wrong}.", 'Write it like [{"name": "crank"}].') from None


def _value(argument: Argument, given: Any, hint: Any, field: str) -> Any:
    if argument.kind == "rows":
        (row_class,) = get_args(hint)
        if not isinstance(given, Sequence) or isinstance(given, str):
            raise CalcError(field, "is a list of rows.", "Give a list of objects.")
        return [_row(argument, row, row_class, f"{field}[{i}]") for i, row in enumerate(given)]
    if argument.kind == "texts":
        words = given.split(";") if isinstance(given, str) else given
        if not isinstance(words, Sequence) or not all(isinstance(word, str) for word in words):
            raise CalcError(field, "is a list of words.", "Give a list, or words with ; between.")
        return [word.strip() for word in words]
    if argument.kind == "numbers":
        inner = get_args(hint)[0]
        items = [part.strip() for part in given.split(";")] if isinstance(given, str) else given
        if not isinstance(items, Sequence):
            raise CalcError(field, "is a list of figures.", "Give a list, or figures with ; between.")
        return [
            _typed(_figure(argument, item, f"{field}[{i}]"), inner, f"{field}[{i}]")
            for i, item in enumerate(items)
        ]
    if argument.kind in ("text", "choice"):
        if not isinstance(given, str):
            raise CalcError(field, "is a word.", argument.text)
        return given  # a word that is not offered is refused by the calculation itself
    if argument.kind == "yes_no":
        if given in (True, "yes", "true"):
            return True
        if given in (False, "no", "false"):
            return False
        raise CalcError(field, "is yes or no.", "Give true or false.")
    if argument.kind == "day":
        try:
            return date.fromisoformat(given)
        except (TypeError, ValueError):
            raise CalcError(field, "is not a day.", "Write it like 2026-03-10.") from None
    number = _figure(argument, given, field)
    return _typed(number, {"whole": int, "exact": Fraction}.get(argument.kind, float), field)


def _row(argument: Argument, given: Any, row_class: Any, field: str) -> Any:
    if not isinstance(given, Mapping):
        raise CalcError(field, "is not an object.", "Give it by field names.")
    hints = get_type_hints(row_class)
    names = {column.name for column in argument.columns}
    for name in given:
        if name not in names:
            raise CalcError(f"{field}.{name}", "is not a field here.", f"Fields: {', '.join(sorted(names))}.")
    values = {}
    for column in argument.columns:
        if column.name in given and given[column.name] is not None:
            values[column.name] = _value(
                column, given[column.name], hints[column.name], f"{field}.{column.name}"
            )
        elif not column.optional:
            raise CalcError(f"{field}.{column.name}", "is missing.", column.text)
    return row_class(**values)


def _figure(argument: Argument, given: Any, field: str) -> Fraction:
    """The exact value in the argument's own unit."""
    try:
        if isinstance(given, Mapping):
            value, unit = given.get("value"), given.get("unit")
            if not argument.dimension:
                raise CalcError(field, "has no unit.", "Give a bare number.")
            if value is None or not isinstance(unit, str):
                raise CalcError(
                    field, "needs a value and a unit.", f'Like {{"value": "5", "unit": "{argument.unit}"}}.'
                )
            if isinstance(value, str) and "/" in value and unit in UNITS:
                text = f"{value.strip()} {UNITS[unit].label}"  # 12 7/16 in
                return parse_quantity(text, argument.dimension, field).to(argument.unit)
            return convert_exact(_number(value, field), unit, argument.unit, field)
        if argument.dimension:
            return parse_quantity(str(given), argument.dimension, field).to(argument.unit)
        return _number(given, field)
    except CalcError:
        raise
    except QuantityError as error:
        raise CalcError(error.field, error.message, error.remedy) from None


def _number(given: Any, field: str) -> Fraction:
    if isinstance(given, bool) or not isinstance(given, str | int | float):
        raise CalcError(field, "is not a number.", "Give a number.")
    text = format(Decimal(repr(given)), "f") if isinstance(given, float) else str(given)
    if len(text.replace(",", ".").partition(".")[2]) > MOST_DECIMALS:
        raise CalcError(field, f"has more than {MOST_DECIMALS} decimals; no more are read.", "Round it.")
    return parse_number(text, field)


def _typed(number: Fraction, kind: Any, field: str) -> Any:
    if kind is int:
        if number.denominator != 1:
            raise CalcError(field, "is not a whole number.", "Give a whole number.")
        return int(number)
    return number if kind is Fraction else float(number)


def _understood(argument: Argument, value: Any) -> Any:
    if argument.columns:
        return [
            {column.name: _understood(column, getattr(row, column.name)) for column in argument.columns}
            for row in value
        ]
    if argument.kind == "numbers":
        return [_with_unit(one, argument.unit) for one in value]
    return _with_unit(value, argument.unit)


def _plain(answer: Any, result: Result, wanted: Mapping[str, str]) -> Any:
    if result.many and isinstance(answer, tuple):
        return [_plain_one(part, result, wanted) for part in answer]
    return _plain_one(answer, result, wanted)


def _plain_one(answer: Any, result: Result, wanted: Mapping[str, str]) -> Any:
    if is_dataclass(answer):
        parts = {part.name: part for part in result.fields}
        return {
            field.name: _plain(getattr(answer, field.name), parts[field.name], wanted)
            for field in fields(answer)
        }
    unit = wanted.get(UNITS[result.unit].dimension, result.unit) if result.unit in UNITS else result.unit
    if unit != result.unit and isinstance(answer, int | float | Fraction):
        exact = convert_exact(Fraction(answer), result.unit, unit)
        answer = exact if isinstance(answer, Fraction) else float(exact)
    return _with_unit(answer, unit)


def _with_unit(value: Any, unit: str) -> Any:
    if isinstance(value, Fraction):
        value = _text(value)
    elif isinstance(value, date):
        value = value.isoformat()
    return value if unit == "-" else {"value": value, "unit": unit}


def _text(value: Fraction) -> str:
    """The exact decimal where there is one; else twelve places."""
    try:
        return exact_decimal(value)
    except QuantityError:
        return f"{float(value):.12g}"
