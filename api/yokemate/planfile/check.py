"""Whether a plan that reads well also holds together (R24): one call, every finding, in the order of the subjects."""

from __future__ import annotations

from collections.abc import Mapping

from yokemate.planfile.check_cuts import cut_findings
from yokemate.planfile.check_gates import gate_findings
from yokemate.planfile.check_groups import group_findings, tightened_findings
from yokemate.planfile.check_loose_ends import loose_end_findings
from yokemate.planfile.check_names import name_findings
from yokemate.planfile.check_needs import need_findings
from yokemate.planfile.check_steps import step_findings
from yokemate.planfile.check_tools import tool_findings
from yokemate.planfile.findings import Finding
from yokemate.planfile.model import Plan
from yokemate.planfile.options import plan_for
from yokemate.planfile.order import Node, order_of
from yokemate.planfile.told import Told


def check(plan: Plan, chosen: Mapping[str, str]) -> list[Finding]:
    """Everything found in `plan` under the chosen options (option -> choice; its default where left out).

    Errors keep the plan from being loaded; doubts stop nobody. Names, steps, figures and needs are looked at in the
    whole plan, the order of work in what the options leave of it.
    """
    told = Told(plan)
    name_findings(plan, told)
    step_findings(plan, told)
    group_findings(plan, told)
    tool_findings(plan, told)
    cut_findings(plan, told)
    in_force = plan_for(plan, chosen)
    need_findings(in_force, told)
    tightened_findings(in_force, told)
    gate_findings(plan, in_force, told)
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
