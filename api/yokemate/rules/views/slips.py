"""What a typed value probably is when it is far from what a pass asks for: windows that the phone compares decimals with.

Advice before it is written; nothing is converted and everything may be written as read. The shares are our own (common
practice, no source): far is more than 25 % off; the target in another unit is known within 3 %, a digit too many or too
few within 10 %.
"""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

from yokemate.planfile.model import TorqueUnit
from yokemate.rules.tightening import shown
from yokemate.rules.views.frame import ViewPart
from yokemate.units import convert_exact

FAR = Fraction(25, 100)
OTHER_UNIT = Fraction(3, 100)
TENFOLD = Fraction(10, 100)


class LooksLike(ViewPart):
    """A value in this window is probably the target in `unit`; without a unit, a digit too many or too few."""

    low: str
    high: str
    unit: TorqueUnit | None = None


class Slips(ViewPart):
    """Decimal strings on the scale that is read, ends included. Outside `near` a value is far from the target."""

    near_low: str
    near_high: str
    looks_like: list[LooksLike]


def slips_of(target: Fraction, unit: TorqueUnit | None) -> Slips:
    """`target` on the scale that is read, in `unit`; None: an angle."""
    others = [other for other in get_args(TorqueUnit) if other != unit] if unit else []
    guesses = [
        *[(convert_exact(target, unit, other), OTHER_UNIT, other) for other in others if unit],
        (target * 10, TENFOLD, None),
        (target / 10, TENFOLD, None),
    ]
    near_low, near_high = _around(target, FAR)
    return Slips(
        near_low=near_low,
        near_high=near_high,
        looks_like=[
            LooksLike(low=low, high=high, unit=other)
            for (low, high), other in ((_around(middle, share), other) for middle, share, other in guesses)
        ],
    )


def _around(middle: Fraction, share: Fraction) -> tuple[str, str]:
    return shown(middle * (1 - share)), shown(middle * (1 + share))
