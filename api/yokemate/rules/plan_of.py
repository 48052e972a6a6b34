"""The plan that is in use, put together again from the rows it became. Pure."""

from __future__ import annotations

from yokemate.planfile.model import Plan
from yokemate.rules.frame import State
from yokemate.rules.rows import Build, Gate, Group, Lift, Part, Task, Tool


def plan_of(state: State) -> Plan | None:
    """What can be checked of a plan: its tasks and all that they refer to. None before a plan was loaded.

    Work that a later version no longer has is left out. Wires, belts and follow-ups became no rows.
    """
    build = state.get(Build, "build")
    tasks = [task.plan for task in sorted(state.all(Task), key=lambda t: t.order) if not task.retired]
    if build.manual is None:
        return None
    used = {step.group for task in tasks for step in task.steps}
    groups = [group for group in sorted(state.all(Group), key=lambda g: g.id) if group.id in used]
    return Plan(
        name=build.plan_name or build.name,
        manual=build.manual,
        default_tolerance_percent=build.default_tolerance_percent,
        skills=build.skills,
        options=build.choices,
        stages=build.stages,
        zones=build.zones,
        specs=list({group.spec.id: group.spec for group in groups}.values()),
        groups=[group.plan for group in groups],
        lifts=[lift.plan for lift in sorted(state.all(Lift), key=lambda one: one.id)],
        loose_ends=build.loose_ends,
        gates=[gate.plan for gate in sorted(state.all(Gate), key=lambda g: g.order)],
        tools=[tool.plan for tool in sorted(state.all(Tool), key=lambda t: t.id)],
        parts=[part.plan for part in sorted(state.all(Part), key=lambda p: p.id)],
        bags=build.bags,
        cuts=build.cuts,
        tasks=tasks,
    )
