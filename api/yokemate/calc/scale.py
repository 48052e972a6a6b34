"""Whether the scale of a torque wrench can be set to a figure at all."""

from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import check_range
from yokemate.calc.torque_wrench import nearest_mark


@dataclass(frozen=True)
class ScaleFit:
    """A scale against a target and its tolerance.

    Fields:
        fits [-]: whether the nearest mark is inside the tolerance
        mark [-]: the nearest mark, in the scale's unit
        too_coarse [-]: whether the marks are further apart than the tolerance is wide
    """

    fits: bool
    mark: Fraction
    too_coarse: bool


def scale_fit(
    target: Fraction,
    minus: Fraction,
    plus: Fraction,
    step: Fraction,
    lowest_mark: Fraction,
    maximum: Fraction,
) -> ScaleFit:
    """Whether a scale is fine enough for a target: all figures in the scale's unit.

    Formula: target - minus <= nearest mark <= target + plus; too coarse when the step is wider than minus +
        plus
    Args:
        target [-]: wanted setting; 0.001..100000
        minus [-]: allowed below; 0..100000
        plus [-]: allowed above; 0..100000
        step [-]: from one mark to the next; 0.001..1000
        lowest_mark [-]: least mark; 0..100000
        maximum [-]: greatest mark; 0.01..100000
    Returns: ScaleFit
    Source: arithmetic
    Example:
        >>> scale_fit(Fraction(92), Fraction(1), Fraction(1), Fraction(5), Fraction(20), Fraction(200)).fits
        False
    """
    check_range("minus", minus, 0, 100000)
    check_range("plus", plus, 0, 100000)
    mark = nearest_mark(target, step, lowest_mark, maximum).mark
    return ScaleFit(target - minus <= mark <= target + plus, mark, step > minus + plus)
