"""What is worked out once when a plan is loaded and written into the entry: orders, tolerances, digests (R2, R12)."""

from __future__ import annotations

import hashlib
import json
from fractions import Fraction
from typing import Any

from yokemate.calc.pattern import tightening_order
from yokemate.planfile.model import BoltGroupPlan, Plan, TaskPlan, TorqueSpec
from yokemate.units import exact_decimal


def plan_digest(plan: Plan) -> str:
    """SHA-256 of the plan as sorted JSON without blanks."""
    body = json.dumps(plan.model_dump(mode="json"), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(body.encode()).hexdigest()


def options_in_force(plan: Plan, *wishes: dict[str, str]) -> dict[str, str]:
    """The choice per option: the first wish that names it, else the plan's default."""
    return {
        option.id: next((wish[option.id] for wish in wishes if option.id in wish), option.default)
        for option in plan.options
    }


def in_force(task: TaskPlan, options: dict[str, str]) -> bool:
    """Whether the chosen options keep this task in the plan."""
    return all(options.get(option) == choice for option, choice in task.when.items())


def order_of(group: BoltGroupPlan) -> list[int]:
    """The tightening order: the plan's own, else worked out from the shape (line: from the middle outward)."""
    if group.order:
        return list(group.order)
    bolts = sorted(group.fasteners, key=lambda bolt: bolt.n)
    if group.layout == "free":
        return [bolt.n for bolt in bolts]
    xs, ys = [Fraction(b.x) for b in bolts], [Fraction(b.y) for b in bolts]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    if group.layout == "line":
        mid_x, mid_y = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
        middle_first = sorted(
            bolts, key=lambda b: ((Fraction(b.x) - mid_x) ** 2 + (Fraction(b.y) - mid_y) ** 2, b.n)
        )
        return [bolt.n for bolt in middle_first]
    if group.layout == "rectangle" and height:
        ratio = min(max(width / height, Fraction(1, 10)), Fraction(10))
        places = tightening_order(len(bolts), "rectangle", float(ratio))
    else:
        places = tightening_order(len(bolts))
    return [bolts[place - 1].n for place in places]


def tolerance_of(spec: TorqueSpec, default_percent: str) -> tuple[tuple[str, str], bool]:
    """(minus, plus) in the spec's unit, and whether it is the build's default (R12)."""
    if spec.tolerance is not None:
        return (spec.tolerance.minus, spec.tolerance.plus), False
    either = exact_decimal(Fraction(spec.target.torque) * Fraction(default_percent) / 100)
    return (either, either), True


def group_figures(plan: Plan) -> dict[str, dict[str, Any]]:
    specs = {spec.id: spec for spec in plan.specs}
    figures: dict[str, dict[str, Any]] = {}
    for group in plan.groups:
        spec = specs[group.spec]
        tolerance, is_default = tolerance_of(spec, plan.default_tolerance_percent)
        figures[group.id] = {
            "order": order_of(group),
            "tolerance": list(tolerance),
            "tolerance_is_default": is_default,
            "passes": spec.passes,
        }
    return figures
