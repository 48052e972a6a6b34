"""Belts: the path round the pulleys against the length in the marking."""

from __future__ import annotations

from yokemate.calc.belt import Pulley, belt_mark, belt_path
from yokemate.calc.errors import CalcError
from yokemate.planfile.model import Plan
from yokemate.planfile.told import Told


def belt_doubts(plan: Plan, told: Told) -> None:
    for n, belt in enumerate(plan.belts):
        try:
            mark = belt_mark(belt.marking)
            round_them = [
                Pulley(
                    p.name, float(p.x_mm), float(p.y_mm), float(p.r_mm), p.side == "back", p.side == "ribs"
                )
                for p in belt.pulleys
            ]
            path = belt_path(round_them)
        except CalcError as error:
            told.doubt("belt_unclear", ("belts", n), error.message, error.remedy, "Tangents round circles.")
            continue
        if mark.ribs != belt.ribs:
            told.doubt(
                "belt_ribs", ("belts", n, "ribs"), f"{belt.marking} has {mark.ribs} ribs and the plan says {belt.ribs}.",
                "Count the grooves of the crank pulley.", "ISO 9981 marking.",
            )  # fmt: skip
        if abs(path.length_mm - mark.effective_mm) > 3:
            told.doubt(
                "belt_length", ("belts", n, "marking"),
                f"the way round its pulleys is {path.length_mm:.1f} mm and {belt.marking} is {mark.effective_mm:.0f} mm.",
                "Measure the pulleys again, or take another length; a slider takes up a little.",
                "Tangents round circles; within 3 mm by a dealer's guide.",
            )  # fmt: skip
