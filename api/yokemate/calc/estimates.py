"""How long a task will take, from three figures."""

from dataclasses import dataclass

from yokemate.calc.errors import CalcError, check_range


@dataclass(frozen=True)
class Estimate:
    """What three figures come to.

    Fields:
        mean_min [min]: what to reckon with
        spread_min [min]: standard deviation
    """

    mean_min: float
    spread_min: float


def three_point(quick_min: float, likely_min: float, slow_min: float) -> Estimate:
    """How long a task takes on average, and how far that may be off.

    Formula: mean = (quick + 4·likely + slow)/6; spread = (slow - quick)/6
    Args:
        quick_min [min]: if all goes well; 0..100000
        likely_min [min]: most often; 0..100000
        slow_min [min]: if much goes wrong; 0..100000
    Returns: Estimate
    Source: the usual weights of a three-point estimate (PERT)
    Example:
        >>> three_point(20, 35, 80)
        Estimate(mean_min=40.0, spread_min=10.0)
    """
    check_range("quick_min", quick_min, 0, 100000)
    check_range("likely_min", likely_min, 0, 100000)
    check_range("slow_min", slow_min, 0, 100000)
    if not quick_min <= likely_min <= slow_min:
        raise CalcError(
            "likely_min", "is not between quick and slow.", "Give them in that order: quick, likely, slow."
        )
    return Estimate((quick_min + 4 * likely_min + slow_min) / 6, (slow_min - quick_min) / 6)
