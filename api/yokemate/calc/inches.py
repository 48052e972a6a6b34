"""Fractions of an inch, exactly: no float in between."""

from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import CalcError, check_range
from yokemate.units import QuantityError, convert_exact, format_inches, nearest_inches, parse_inches


@dataclass(frozen=True)
class NearestInch:
    """A metric length on an inch rule.

    Fields:
        inches [-]: as written in a workshop
        error_mm [mm]: that length minus the one asked for
    """

    inches: str
    error_mm: Fraction


def add_inches(lengths: str) -> str:
    """The sum of lengths in inches, exactly.

    Formula: addition of fractions
    Args:
        lengths [-]: with + between, like 5 7/16 + 2 21/32
    Returns:
        inches [-]: as written in a workshop
    Source: arithmetic
    Example:
        >>> add_inches("5 7/16 + 2 21/32")
        '8 3/32'
    """
    try:
        return format_inches(
            sum((parse_inches(part, "lengths") for part in lengths.split("+")), Fraction(0)), "lengths"
        )
    except QuantityError as error:
        raise CalcError("lengths", error.message, error.remedy) from None


def inches_to_mm(inches: str) -> Fraction:
    """A length in inches as millimetres, exactly.

    Formula: 25.4 mm to the inch
    Args:
        inches [-]: like 12 7/16
    Returns:
        length_mm [mm]: exact
    Source: international yard and pound, 1959
    Example:
        >>> float(inches_to_mm("9 5/8"))
        244.475
    """
    try:
        return convert_exact(parse_inches(inches, "inches"), "in", "mm")
    except QuantityError as error:
        raise CalcError("inches", error.message, error.remedy) from None


def mm_to_inches(length_mm: Fraction, denominator: int = 64) -> NearestInch:
    """The nearest marks of an inch rule to a length in millimetres.

    Formula: round(length/25.4·n)/n
    Args:
        length_mm [mm]: the length; 0..100000
        denominator [-]: parts of an inch: 1, 2, 4 .. 64; 1..64
    Returns: NearestInch
    Source: international yard and pound, 1959
    Example:
        >>> mm_to_inches(Fraction(137)).inches
        '5 25/64'
    """
    check_range("length_mm", length_mm, 0, 100000)
    check_range("denominator", denominator, 1, 64)
    try:
        nearest = nearest_inches(convert_exact(length_mm, "mm", "in"), denominator)
    except QuantityError as error:
        raise CalcError("denominator", error.message, error.remedy) from None
    return NearestInch(format_inches(nearest), convert_exact(nearest, "in", "mm") - length_mm)
