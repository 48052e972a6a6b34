"""Torque specs and bolt groups: figures that fit together, a second person where it hangs on it (R11 to R15)."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import BoltGroupPlan, Plan, Target, TorqueSpec
from yokemate.planfile.told import Told
from yokemate.units import convert_exact

MOST_TORQUE = (
    100_000  # in any unit that is offered; above it stands no figure of a car, and no sum works with it
)
_TURNS_IT = ("torque_wrench_again", "first_movement")


def group_findings(plan: Plan, told: Told) -> None:
    if not 0 < Fraction(plan.default_tolerance_percent) < 100:
        told.error(
            "default_tolerance",
            ("default_tolerance_percent",),
            "a tolerance is more than nothing and less than the torque.",
            "Write percent of the torque, as 5.",
        )
    for n, spec in enumerate(plan.specs):
        _spec(spec, ("specs", n), told)
    kinds = {spec.id: spec.target.kind for spec in plan.specs}
    for n, group in enumerate(plan.groups):
        _second_person(group, ("groups", n), told)
        _pattern(group, ("groups", n), told)
        if kinds.get(group.spec) == "torque_angle" and group.retighten:
            told.error(
                "angle_turned_again", ("groups", n, "retighten"),
                "its spec tightens by angle, and such fasteners are never turned again.", "Write `retighten: false`.",
            )  # fmt: skip


def _spec(spec: TorqueSpec, loc: Loc, told: Told) -> None:
    target = spec.target
    if Fraction(target.torque) <= 0:
        told.error(
            "torque_not_positive",
            (*loc, "target", "torque"),
            "a torque is above nothing.",
            "Write the manual's figure.",
        )
    tolerance_plus = spec.tolerance.plus if spec.tolerance else None
    for field, figure in (
        (("target", "torque"), target.torque),
        (("target", "torque_max"), target.torque_max),
        (("tolerance", "plus"), tolerance_plus),
    ):
        if figure is not None and Fraction(figure) > MOST_TORQUE:
            told.error(
                "torque_too_large", (*loc, *field), f"{figure} is no torque of a car.", "Look for a nought too many."
            )  # fmt: skip
    wanted = {"torque_angle": "angles_deg", "gap": "gap_mm", "castle": "torque_max"}.get(target.kind)
    if wanted is not None and not getattr(target, wanted):
        told.error(
            "target_incomplete",
            (*loc, "target"),
            f"a {target.kind} target needs {wanted}.",
            f"Add `{wanted}: ...`.",
        )
    if target.angles_deg and target.kind != "torque_angle":
        told.error(
            "angle_unasked",
            (*loc, "target", "kind"),
            f"a {target.kind} target is not turned on by angles.",
            "Write `kind: torque_angle`, or take the angles out.",
        )
    for n, angle in enumerate(target.angles_deg):
        if not 1 <= Fraction(angle) <= 360:
            told.error(
                "angle_range",
                (*loc, "target", "angles_deg", n),
                f"{angle}° is no turn of 1 to 360°.",
                "Write each turn by itself, as [90, 90].",
            )
    if target.torque_max is not None and Fraction(target.torque_max) <= Fraction(target.torque):
        told.error(
            "castle_range", (*loc, "target", "torque_max"), "the upper end is not above the torque.",
            "Write how far the nut may be turned on to the next pin hole.",
        )  # fmt: skip
    passes = spec.passes_percent
    rises = all(a < b for a, b in pairwise(passes))
    if not passes or not rises or passes[0] < 1 or passes[-1] != 100:
        told.error(
            "passes",
            (*loc, "passes_percent"),
            "passes must rise and end at 100.",
            "Write [100], or as [50, 100].",
        )
    if spec.tolerance is not None:
        minus, plus = Fraction(spec.tolerance.minus), Fraction(spec.tolerance.plus)
        if minus < 0 or plus < 0 or minus >= Fraction(target.torque):
            told.error(
                "tolerance", (*loc, "tolerance"), "a tolerance is not below nothing and less than the torque.",
                "Write both as plain figures in the target's unit, as {minus: 4, plus: 4}.",
            )  # fmt: skip


def _second_person(group: BoltGroupPlan, loc: Loc, told: Told) -> None:
    if group.critical and not group.countersign:
        told.error(
            "critical_without_countersign", (*loc, "countersign"), "a critical group needs a second person.",
            "Write `countersign: true`.",
        )  # fmt: skip
    if group.countersign and not group.check_methods:
        told.error(
            "no_check_method", (*loc, "check_methods"), "nothing says how the second person checks this group.",
            "Name at least one of watched, torque_wrench_again, first_movement, paint_mark_seen.",
        )  # fmt: skip
    if "paint_mark_seen" in group.check_methods and not group.paint:
        told.error(
            "paint_not_made", (*loc, "check_methods"), "paint marks are to be seen and none are made.",
            "Write `paint: true`, or take paint_mark_seen out.",
        )  # fmt: skip
    turning = [method for method in group.check_methods if method in _TURNS_IT]
    if turning and not group.retighten:
        told.error(
            "check_turns_it", (*loc, "check_methods"),
            f"{turning[0]} turns a fastener that must never be turned again.", "Use watched or paint_mark_seen.",
        )  # fmt: skip


def _pattern(group: BoltGroupPlan, loc: Loc, told: Told) -> None:
    numbers = [fastener.n for fastener in group.fasteners]
    if len(set(numbers)) < len(numbers):
        told.error(
            "number_twice", (*loc, "fasteners"), "two fasteners have the same n.", "Number them 1, 2, 3."
        )
    if group.order and sorted(group.order) != sorted(numbers):
        told.error(
            "order_incomplete", (*loc, "order"), "the order does not name each fastener once.",
            "Name every n once, or leave the order out.",
        )  # fmt: skip
    places = [(Fraction(f.x), Fraction(f.y)) for f in group.fasteners]
    if len(set(places)) < len(places):
        told.error(
            "place_twice",
            (*loc, "fasteners"),
            "two fasteners lie on one place.",
            "Give each its own x and y.",
        )
    if any(abs(figure) > 100 for place in places for figure in place):
        told.error(
            "place_outside",
            (*loc, "fasteners"),
            "a fastener lies outside the drawing.",
            "Keep x and y from -100 to 100.",
        )


def tightened_findings(plan: Plan, told: Told) -> None:
    """`plan`: as the options leave it."""
    used = {step.group for task in plan.tasks for step in task.steps}
    final = {step.group for task in plan.tasks for step in task.steps if step.kind == "tighten"}
    idle = {step.group for task in told.plan.tasks for step in task.steps}
    targets = {spec.id: spec.target for spec in plan.specs}
    for n, group in enumerate(plan.groups):
        if group.id in used and group.id not in final:
            told.error(
                "never_tightened", ("groups", n), "no step brings it to its final torque.",
                f"Add a step `kind: tighten` with `group: {group.id}`.",
            )  # fmt: skip
        elif group.id not in idle:
            told.doubt(
                "group_unused",
                ("groups", n),
                "no step uses this group.",
                "Add its step, or take the group away.",
            )
        elif group.id in final and group.spec in targets and not _reached(plan, targets[group.spec]):
            target = targets[group.spec]
            told.doubt(
                "no_torque_wrench", ("groups", n, "spec"),
                f"no torque wrench of the tool store reaches {target.torque} {target.unit}.", "Borrow one, or add it to `tools`.",
            )  # fmt: skip


def _reached(plan: Plan, target: Target) -> bool:
    """Whether one torque wrench of the plan has the target in its range; true where the plan lists none."""
    wrenches = [tool.torque_wrench for tool in plan.tools if tool.torque_wrench is not None]
    if not wrenches:
        return True
    wanted = Fraction(target.torque)
    return any(
        Fraction(w.lowest) <= convert_exact(wanted, target.unit, w.unit) <= Fraction(w.highest)
        for w in wrenches
    )
