"""The one way in which a calculation says no, and the checks that all of them share."""

from collections.abc import Collection
from fractions import Fraction

from yokemate.units import QuantityError


class CalcError(QuantityError):
    """An input outside what a formula or table covers: the argument, what is wrong, what to do about it."""


def check_range(field: str, value: float | Fraction, low: float | Fraction, high: float | Fraction) -> None:
    """Refuse a number outside low..high (both allowed), or one that is no number at all: that compares with none."""
    if not low <= value <= high:
        raise CalcError(
            field,
            f"{float(value):g} is outside {float(low):g} to {float(high):g}.",
            "Check the figure and its unit.",
        )


def check_choice(field: str, value: str, choices: Collection[str]) -> None:
    """Refuse a word that is not in the list."""
    if value not in choices:
        raise CalcError(field, f"'{value}' is not known here.", f"Choose one of: {', '.join(choices)}.")
