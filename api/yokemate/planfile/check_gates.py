"""Gates: conditions that can come true, in the order of the file; conditions that the options take away (R25)."""

from __future__ import annotations

from yokemate.planfile.model import Plan
from yokemate.planfile.told import Told


def gate_findings(plan: Plan, in_force: Plan, told: Told) -> None:
    """`in_force`: the plan as the options leave it."""
    tasks = {task.id: task for task in plan.tasks}
    kept = {task.id for task in in_force.tasks}
    place = {gate.id: n for n, gate in enumerate(plan.gates)}
    for n, gate in enumerate(plan.gates):
        if not gate.guards:
            told.doubt(
                "guards_nothing", ("gates", n), "no work waits for this gate.",
                "Name in `guards` what must not begin while it is shut.",
            )  # fmt: skip
        for m, standing in enumerate(gate.standing):
            loc = ("gates", n, "standing", m)
            for name in (standing.task_closed, standing.lag_over):
                if name in tasks and name not in kept:
                    told.doubt(
                        "condition_left_out", loc, f"the chosen options leave {name} out: this condition falls away.",
                        "Name the task that is done instead, if the gate needs one.",
                    )  # fmt: skip
            if standing.lag_over in tasks and tasks[standing.lag_over].lag_after is None:
                told.error(
                    "no_lag", (*loc, "lag_over"), f"{standing.lag_over} has no lag that could be over.",
                    "Add `lag_after: {hours: ..., why: ...}` to the task, or write `task_closed`.",
                )  # fmt: skip
            if place.get(standing.gate_open or "", -1) > n:
                told.error(
                    "gate_order", (*loc, "gate_open"), f"gate {standing.gate_open} stands below this gate.",
                    "Gates stand in the order in which they are opened.",
                )  # fmt: skip
