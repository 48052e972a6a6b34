"""Whether a plan that reads well also holds together (R24): ids, references, loops, groups, loose ends, gates."""

from __future__ import annotations

from collections.abc import Mapping

from yokemate.planfile.check_loose_ends import loose_end_findings
from yokemate.planfile.check_names import name_findings
from yokemate.planfile.findings import Finding
from yokemate.planfile.model import Plan
from yokemate.planfile.options import plan_for
from yokemate.planfile.order import Node, order_of
from yokemate.planfile.told import Told


def check(plan: Plan, chosen: Mapping[str, str]) -> list[Finding]:
    """Everything found in `plan` under the chosen options (option -> choice; its default where left out).

    Errors keep the plan from being loaded; doubts stop nobody. Names are looked at in the whole plan, the order
    of work in what the options leave of it.
    """
    told = Told(plan)
    name_findings(plan, told)
    _groups(plan, told)
    _steps(plan, told)
    _lifts(plan, told)
    in_force = plan_for(plan, chosen)
    _loops(in_force, told)
    loose_end_findings(in_force, told)
    return told.findings


def _loops(plan: Plan, told: Told) -> None:
    for loop in order_of(plan).loops():
        way = [*reversed(loop), loop[-1]]
        kind, name = loop[0]
        loc = told.at("tasks" if kind == "task" else "gates", name)
        said = ", then ".join(_called(node) for node in way)
        told.error(
            "loop",
            loc,
            f"this work waits for itself: {said}.",
            "Take one of these out of `after` or the gate.",
        )


def _called(node: Node) -> str:
    return node[1] if node[0] == "task" else f"gate {node[1]}"


def _groups(plan: Plan, told: Told) -> None:
    tightened = {s.group for t in plan.tasks for s in t.steps if s.kind == "tighten"}
    used = {s.group for t in plan.tasks for s in t.steps}
    for group in plan.groups:
        loc = told.at("groups", group.id)
        if group.critical and not group.countersign:
            told.error(
                "critical_without_countersign", (*loc, "countersign"),
                "a critical group needs a second person.", "Write `countersign: true`.",
            )  # fmt: skip
        if group.countersign and not group.check_methods:
            told.error(
                "no_check_method", (*loc, "check_methods"), "nothing says how the second person checks this group.",
                "Name at least one of watched, torque_wrench_again, first_movement, paint_mark_seen.",
            )  # fmt: skip
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
        if group.id in used and group.id not in tightened:
            told.error(
                "never_tightened", loc, "it is run in and never tightened to its figure.",
                f"Add a step `kind: tighten` with `group: {group.id}`.",
            )  # fmt: skip
        elif group.id not in used:
            told.doubt(
                "group_unused", loc, "no step uses this group.", "Add its step, or take the group away."
            )


def _steps(plan: Plan, told: Told) -> None:
    for number, task in enumerate(plan.tasks):
        if not task.minutes[0] <= task.minutes[1] <= task.minutes[2]:
            told.error(
                "minutes_order", ("tasks", number, "minutes"), "the three times do not rise.",
                "Write [quick, likely, slow].",
            )  # fmt: skip
        for index, step in enumerate(task.steps):
            loc = ("tasks", number, "steps", index)
            if step.kind in ("run_in", "snug", "tighten") and step.group is None:
                told.error(
                    "step_without_group",
                    loc,
                    f"a {step.kind} step must say which bolt group.",
                    "Add `group: ...`.",
                )
            if step.kind == "measure" and step.measure is None:
                told.error(
                    "step_without_measure", loc, "a measure step must say what is measured.",
                    "Add `measure: {say: ..., unit: ...}`.",
                )  # fmt: skip
            if step.kind == "lift" and task.lift is None:
                told.error(
                    "step_without_lift",
                    loc,
                    "a lift step needs the task's lift.",
                    "Add `lift: ...` to the task.",
                )


def _lifts(plan: Plan, told: Told) -> None:
    for number, lift in enumerate(plan.lifts):
        if lift.mass_kg is None or lift.cg_x_mm is None or lift.cg_y_mm is None:
            told.doubt(
                "load_unknown", ("lifts", number), "mass or centre of gravity is not known: it will be refused.",
                "Weigh it and write `mass_kg`, `cg_x_mm`, `cg_y_mm`.",
            )  # fmt: skip
