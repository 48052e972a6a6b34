"""Prevailing torque against the FAA's table."""

from fractions import Fraction as F

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.prevailing import aircraft_torque, nut_may_be_reused


# AC 43.13-1B table 7-1, lbf·in: two full copies agree, a third for the fine rows.
@pytest.mark.parametrize(
    ("thread", "tension", "shear"),
    [
        pytest.param("10-32", (20, 25, 40), (12, 15, 25), id="F1"),
        pytest.param("1/4-28", (50, 70, 100), (30, 40, 60), id="F2"),
        pytest.param("3/8-24", (160, 190, 390), (95, 110, 240), id="F3"),
        pytest.param("1/2-20", (480, 690, 1100), (290, 410, 660), id="F4"),
        pytest.param("1/4-20", (40, 50, 75), (25, 30, 45), id="F5"),
        pytest.param("3/8-16", (160, 185, 275), (95, 100, 170), id="F6"),
        pytest.param("5/8-11", (700, 900, 1500), (420, 540, 900), id="F7"),
    ],
)
def test_table(thread: str, tension: tuple[int, ...], shear: tuple[int, ...]) -> None:
    """The table's rows, exactly."""
    for nut, row in (("tension", tension), ("shear", shear)):
        found = aircraft_torque(thread, nut)  # type: ignore[arg-type]
        assert (found.low_lbf_in, found.high_lbf_in, found.most_lbf_in) == row


def test_drag_is_added() -> None:
    """F8: 1/4-28 with 7 lbf·in of drag is set 57 to 77, never above 107 (par. 7-40)."""
    found = aircraft_torque("1/4-28", "tension", F(7))

    assert (found.low_lbf_in, found.high_lbf_in, found.most_lbf_in) == (57, 77, 107)


@pytest.mark.parametrize(
    ("thread", "least"),
    [("7/16-20", 8), ("1/2-20", 10), ("9/16-18", 13), ("9/16-12", 14), ("5/8-11", 20), ("1-14", 55)],
)
def test_reuse(thread: str, least: int) -> None:
    """Table 7-2: below this drag a nut is discarded."""
    assert nut_may_be_reused(thread, F(least))
    assert not nut_may_be_reused(thread, F(least) - F(1, 10))


def test_sizes_not_verified_are_refused() -> None:
    """R32: 7/16-20 is in the source but was not verified, so it is refused and not read between
    its neighbours.
    """
    for call in (lambda: aircraft_torque("7/16-20"), lambda: nut_may_be_reused("1/4-28", F(9))):
        with pytest.raises(CalcError, match="not in the table"):
            call()
