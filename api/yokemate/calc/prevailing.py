"""Nuts that drag by design: the drag is measured and added. Aircraft practice, for inch threads.

The table is for oil-free, cadmium-plated threads. It jumps between 3/8-24 and 7/16-20 in its source and is
not smoothed: sizes that were not verified are refused.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range

# Thread: recommended tension nut, recommended shear nut, most tension, most shear; lbf·in. AC 43.13-1B
# table 7-1.
_TABLE: dict[str, tuple[tuple[int, int], tuple[int, int], int, int]] = {
    "10-32": ((20, 25), (12, 15), 40, 25),
    "1/4-28": ((50, 70), (30, 40), 100, 60),
    "3/8-24": ((160, 190), (95, 110), 390, 240),
    "1/2-20": ((480, 690), (290, 410), 1100, 660),
    "1/4-20": ((40, 50), (25, 30), 75, 45),
    "3/8-16": ((160, 185), (95, 100), 275, 170),
    "5/8-11": ((700, 900), (420, 540), 1500, 900),
}
# Thread: smallest drag for re-use, lbf·in. AC 43.13-1B table 7-2.
_REUSE = {"7/16-20": 8, "1/2-20": 10, "9/16-18": 13, "9/16-12": 14, "5/8-11": 20, "1-14": 55}


@dataclass(frozen=True)
class AircraftTorque:
    """What the table gives for a thread.

    Fields:
        low_lbf_in [lbf_in]: least recommended
        high_lbf_in [lbf_in]: most recommended
        most_lbf_in [lbf_in]: never above this
    """

    low_lbf_in: Fraction
    high_lbf_in: Fraction
    most_lbf_in: Fraction


def aircraft_torque(
    thread_name: str, nut: Literal["tension", "shear"] = "tension", drag_lbf_in: Fraction = Fraction(0)
) -> AircraftTorque:
    """The torque for an inch thread with a plain or a self-locking nut: the measured drag is added.

    Formula: set = recommended + drag; limit = maximum + drag
    Args:
        thread_name [-]: like 1/4-28
        nut [-]: tension or shear type
        drag_lbf_in [lbf_in]: measured just before contact; 0..300
    Returns: AircraftTorque
    Source: AC 43.13-1B table 7-1 and par. 7-40, oil-free cadmium-plated threads
    Example:
        >>> aircraft_torque("1/4-28", "tension", Fraction(7)).most_lbf_in
        Fraction(107, 1)
    """
    check_choice("nut", nut, ("tension", "shear"))
    check_range("drag_lbf_in", drag_lbf_in, 0, 300)
    row = _TABLE.get(thread_name.strip())
    if row is None:
        raise CalcError(
            "thread_name", f"{thread_name} is not in the table.", f"Threads: {', '.join(_TABLE)}."
        )
    (low, high), most = (row[0], row[2]) if nut == "tension" else (row[1], row[3])
    return AircraftTorque(low + drag_lbf_in, high + drag_lbf_in, most + drag_lbf_in)


def nut_may_be_reused(thread_name: str, drag_lbf_in: Fraction) -> bool:
    """Whether a self-locking nut still drags enough to be used again.

    Formula: drag at least the table's
    Args:
        thread_name [-]: like 1/2-20
        drag_lbf_in [lbf_in]: measured on the bolt; 0..300
    Returns:
        reusable [-]: false: discard it
    Source: AC 43.13-1B table 7-2
    Example:
        >>> nut_may_be_reused("1/2-20", Fraction(9))
        False
    """
    check_range("drag_lbf_in", drag_lbf_in, 0, 300)
    least = _REUSE.get(thread_name.strip())
    if least is None:
        raise CalcError(
            "thread_name", f"{thread_name} is not in the table.", f"Threads: {', '.join(_REUSE)}."
        )
    return drag_lbf_in >= least
