"""Torque and its rounds held against what published tables say in other places."""

import itertools
from fractions import Fraction as F

import pytest

from yokemate.calc.errors import CalcError
from yokemate.calc.pattern import angle_rounds, tightening_order
from yokemate.calc.threads import bolt_strength
from yokemate.calc.torque import lubrication_change, plausibility


@pytest.mark.parametrize(
    ("thread_name", "cls", "newtons", "misprint"),
    [("M4", "10.9", 9130, 91130), ("M12", "9.8", 75900, 75200), ("M20", "10.9", 255000, 250000)],
)
def test_tensile_loads_where_copies_disagree(
    thread_name: str, cls: str, newtons: float, misprint: float
) -> None:
    """ISO 898-1 ultimate loads, Rm × As: three rows of which a copy has a misprint; ours is nearer to the right one."""
    found = (bolt_strength(thread_name, cls).tensile_kn) * 1000

    assert found == pytest.approx(newtons, rel=0.002)
    assert abs(found - newtons) < abs(found - misprint)


def test_a_misprinted_lubrication_example() -> None:
    """130 × 0.09/0.17 is printed as 53 on one page; it is 68.8."""
    assert float(lubrication_change(F(130), F("0.17"), F("0.09"))) == pytest.approx(68.8, abs=0.05)


def test_dry_and_oiled_headings_swapped() -> None:
    """Two manuals print the same figures with the headings swapped: the larger must be the dry one, at whatever class."""
    for cls in ("8.8", "10.9"):
        dry, oiled = (plausibility("M12", cls, 80, one).percent for one in ("dry", "oiled"))  # type: ignore[arg-type]
        assert oiled == pytest.approx(dry * 0.20 / 0.15)


def test_six_bolts() -> None:
    """Q2: six: across, then diagonal, and again: three opposite pairs, never straight on to a neighbour."""
    order = tightening_order(6)

    assert {frozenset(order[i : i + 2]) for i in (0, 2, 4)} == {
        frozenset(p) for p in ((1, 4), (2, 5), (3, 6))
    }
    assert all((b - a) % 6 in (2, 3, 4) for a, b in itertools.pairwise(order))


def test_torque_then_angles_are_rounds() -> None:
    """Q5: 27 N·m + 60° + 30° on ten bolts (a dealer's note on torque-to-yield bolts): three rounds over all, not one turn of 90°."""
    rounds = angle_rounds(10, F(27), [60, 30])

    assert [(r.number, r.torque, r.angle_deg, r.turned_deg) for r in rounds] == [
        (1, 27, None, 0),
        (2, None, 60, 60),
        (3, None, 30, 90),
    ]
    assert {r.order for r in rounds} == {tightening_order(10)}
    assert angle_rounds(8, F(1), [90], "rectangle", 3)[1].order == tightening_order(8, "rectangle", 3)
    assert angle_rounds(18, F(1), [90], "rectangle") == angle_rounds(18, F(1), [90], "rectangle", 1)
    assert angle_rounds(8, F(1), [90]) == angle_rounds(8, F(1), [90], "circle")


def test_how_many_angles() -> None:
    """R32: none is no such figure, six are enough, seven are too many."""
    assert angle_rounds(4, F(27), [10] * 6)[-1].turned_deg == 60
    for angles in ([], [10] * 7):
        with pytest.raises(CalcError, match="angles_deg"):
            angle_rounds(4, F(27), angles)
