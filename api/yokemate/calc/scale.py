"""Whether the scale of a torque wrench can be set to a figure at all."""

from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import check_range
from yokemate.calc.torque_wrench import nearest_mark


@dataclass(frozen=True)
class ScaleFit:
    """A scale against a target and its tolerance.

    Fields:
        fits [-]: whether a mark is inside the tolerance
        mark [-]: the nearest mark inside the tolerance, or, where none is, the nearest; in the scale's unit
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

    Formula: target - minus <= mark <= target + plus for the mark below or above the target; too coarse when the step is wider than minus +
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
    near = nearest_mark(target, step, lowest_mark, maximum)
    other = near.above if near.mark == near.below else near.below
    inside = [mark for mark in (near.mark, other) if target - minus <= mark <= target + plus]
    return ScaleFit(bool(inside), inside[0] if inside else near.mark, step > minus + plus)
