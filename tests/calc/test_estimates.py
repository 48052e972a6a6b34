"""Three-point estimates, by hand."""

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.estimates import three_point


@pytest.mark.parametrize(
    ("figures", "mean", "spread"),
    [((20, 35, 80), 40, 10), ((45, 60, 120), 67.5, 12.5), ((30, 30, 30), 30, 0), ((0, 60, 60), 50, 10)],
)
def test_three_point(figures: tuple[float, float, float], mean: float, spread: float) -> None:
    """P3: (20 + 140 + 80)/6 = 40, 60/6 = 10; (45 + 240 + 120)/6 = 67.5, 75/6 = 12.5; the last (240 + 60)/6."""
    found = three_point(*figures)
    assert (found.mean_min, found.spread_min) == (mean, spread)


@pytest.mark.parametrize(
    ("figures", "field"),
    [
        ((36, 35, 80), "likely_min"),
        ((20, 81, 80), "likely_min"),
        ((-1, 35, 80), "quick_min"),
        ((20, -1, 80), "likely_min"),
        ((20, 35, 100001), "slow_min"),
        ((20, 100001, 100001), "likely_min"),
        ((100001, 100001, 100001), "quick_min"),
        ((-1, -1, -1), "quick_min"),
        ((0, 0, -1), "slow_min"),
    ],
)
def test_what_is_no_estimate(figures: tuple[float, float, float], field: str) -> None:
    """R32: out of order, or outside the range: the field is named."""
    with pytest.raises(CalcError) as refused:
        three_point(*figures)
    assert refused.value.field == field
    assert three_point(0, 0, 100000).spread_min == pytest.approx(100000 / 6)
    assert three_point(100000, 100000, 100000).mean_min == 100000
