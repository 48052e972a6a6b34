"""What parts of a small car usually weigh: to notice a figure that was misread, never to fill one in. Weigh it."""

from dataclasses import dataclass
from typing import Literal, get_args

from yokemate.calc.errors import check_choice, check_range

Part = Literal[
    "four-cylinder engine",
    "manual gearbox",
    "engine with transaxle",
    "battery",
    "small two-seat donor, whole",
    "bare tube frame",
    "seat",
    "wheel with tyre",
    "body panel",
    "windscreen",
    "petrol tank",
]
_PRINTED, _PRACTICE = "printed", "common practice, not verified"
_USUAL: dict[Part, tuple[float, float, str]] = {
    "four-cylinder engine": (113, 181, _PRINTED),  # 113 to 159 on one page, 136 to 181 on another
    "manual gearbox": (34, 57, _PRINTED),
    "engine with transaxle": (150, 220, _PRACTICE),
    "battery": (16, 20, _PRINTED),
    "small two-seat donor, whole": (960, 1040, _PRINTED),
    "bare tube frame": (55, 115, _PRACTICE),
    "seat": (12, 25, _PRACTICE),
    "wheel with tyre": (13, 20, _PRACTICE),
    "body panel": (3, 15, _PRACTICE),
    "windscreen": (10, 16, _PRACTICE),
    "petrol tank": (5, 10, _PRACTICE),
}
PETROL_KG_PER_L = 0.75


@dataclass(frozen=True)
class UsualMass:
    """A mass beside what such parts usually have.

    Fields:
        verdict [-]: usual, lighter than usual, or heavier than usual: then look again at the scales and the unit
        low_kg [kg]: the least that is usual
        high_kg [kg]: the most that is usual
        known_from [-]: printed, or common practice
    """

    verdict: str
    low_kg: float
    high_kg: float
    known_from: str


def usual_mass(part: Part, mass_kg: float, petrol_l: float = 0) -> UsualMass:
    """Whether a mass that was weighed or read is what such a part usually has.

    Formula: between the least and the most of the table; petrol adds 0.75 kg per litre to both
    Args:
        part [-]: what it is
        mass_kg [kg]: as weighed, with whatever is bolted to it; 0.1..5000
        petrol_l [l]: petrol in it; 0..200
    Returns: UsualMass
    Source: engines: two pages of a parts trade (113 to 159 kg) and of sizes (136 to 181); gearbox: the first;
        battery: a battery dealer; donor: a car data page; all else common practice, not verified
    Example:
        >>> usual_mass("battery", 35).verdict
        'heavier than usual'
    """
    check_choice("part", part, get_args(Part))
    check_range("mass_kg", mass_kg, 0.1, 5000)
    check_range("petrol_l", petrol_l, 0, 200)
    low, high, known_from = _USUAL[part]
    petrol_kg = petrol_l * PETROL_KG_PER_L
    low, high = low + petrol_kg, high + petrol_kg
    verdict = "lighter than usual" if mass_kg < low else "heavier than usual" if mass_kg > high else "usual"
    return UsualMass(verdict, low, high, known_from)
