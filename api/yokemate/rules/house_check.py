"""A torque wrench against a weight on its arm: what was typed, turned into the sum and its verdict (R11, R16)."""

from __future__ import annotations

from fractions import Fraction

from yokemate.calc.torque_wrench import house_check
from yokemate.planfile.model import TorqueWrenchPlan
from yokemate.rules.commands.stores import HouseCheckByWeight
from yokemate.rules.refusals import Refused
from yokemate.rules.rows.stores import Weighed
from yokemate.units import QuantityError, convert_exact, format_decimal, parse_inches, parse_number

CALC = "house_check/2"  # 2: own weight counted
FIELDS = {
    "mass_kg": "mass",
    "arm_mm": "arm",
    "reading_n_m": "reading",
    "maximum_n_m": "wrench",
    "own_kg": "own_mass",
    "own_arm_mm": "own_arm",
}


def weigh(plan: TorqueWrenchPlan, cmd: HouseCheckByWeight) -> tuple[Weighed, bool]:
    """What is kept of the check, and whether it holds. `bad_input` names the field that can't be (R32)."""
    try:
        reading = parse_number(cmd.reading, "reading")
        _on_the_scale(plan, reading)
        found = house_check(
            mass_kg=_mass(cmd, "mass"),
            arm_mm=_arm(cmd, "arm"),
            own_kg=_mass(cmd, "own_mass"),
            own_arm_mm=_arm(cmd, "own_arm"),
            reading_n_m=float(convert_exact(reading, plan.unit, "n_m")),
            maximum_n_m=float(convert_exact(Fraction(plan.highest), plan.unit, "n_m")),
        )
    except QuantityError as wrong:
        field = FIELDS.get(wrong.field, wrong.field)
        raise Refused("bad_input", field=field, problem=wrong.message, remedy=wrong.remedy) from wrong
    applied = convert_exact(Fraction(found.applied_n_m), "n_m", plan.unit)
    weighed = Weighed(
        mass=cmd.mass,
        mass_unit=cmd.mass_unit,
        arm=cmd.arm,
        arm_unit=cmd.arm_unit,
        reading=cmd.reading,
        applied=format_decimal(applied, 2),
        deviation_percent=format_decimal(Fraction(found.deviation_percent), 1),
        permitted_percent=format_decimal(Fraction(found.permitted_percent), 0),
        calc=CALC,
        own_mass=cmd.own_mass,
        own_arm=cmd.own_arm,
    )
    return weighed, found.within


def _mass(cmd: HouseCheckByWeight, field: str) -> float:
    typed = getattr(cmd, field)
    return float(convert_exact(parse_number(typed, field), cmd.mass_unit, "kg", field)) if typed else 0.0


def _arm(cmd: HouseCheckByWeight, field: str) -> float:
    typed = getattr(cmd, field)
    if not typed:
        return 0.0
    length = (parse_inches if cmd.arm_unit == "in" else parse_number)(typed, field)
    return float(convert_exact(length, cmd.arm_unit, "mm", field))


def _on_the_scale(plan: TorqueWrenchPlan, reading: Fraction) -> None:
    if not Fraction(plan.lowest) <= reading <= Fraction(plan.highest):
        raise Refused(
            "bad_input",
            field="reading",
            problem=f"its scale goes from {plan.lowest} to {plan.highest}.",
            remedy="Hang a weight that brings it within its scale, best near what you will set.",
        )
