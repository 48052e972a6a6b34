"""R24: what the steps open is made good by a later step before the gate that needs it; likewise groups run in."""

from __future__ import annotations

from collections import defaultdict

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import Plan
from yokemate.planfile.order import Node, Order, order_of
from yokemate.planfile.told import Told

Place = tuple[str, int]  # task id, number of the step


def loose_end_findings(plan: Plan, told: Told) -> None:
    """`plan`: as the options leave it."""
    order = order_of(plan)
    opens: dict[str, list[Place]] = defaultdict(list)
    makes_good: dict[str, list[Place]] = defaultdict(list)
    for task in plan.tasks:
        for index, step in enumerate(task.steps):
            for name in step.opens:
                opens[name].append((task.id, index))
            for name in step.puts_back:
                makes_good[name].append((task.id, index))
    for task in plan.tasks:
        lift = next((lift for lift in plan.lifts if lift.id == task.lift), None)
        made = [index for index, step in enumerate(task.steps) if step.kind == "lift"]
        for name in lift.propped if lift is not None else []:
            opens[name].append((task.id, made[0] if made else -1))
    gates = {gate.id for gate in plan.gates}
    for end in plan.loose_ends:
        if not opens[end.id]:
            if makes_good[end.id]:
                says = "it is put back and no step opens it."
                told.doubt("never_opened", told.at("loose_ends", end.id), says, "Say which step opens it.")
            continue
        first, *others = sorted({task for task, _step in opens[end.id]}, key=[t.id for t in plan.tasks].index)
        if others:
            says = f"it is opened in {first} and again in {' and '.join(others)}."
            told.doubt("opened_twice", told.at("loose_ends", end.id), says, "Is one of them to put it back?")
        if end.gate in gates:
            _one(end.id, end.gate, opens[end.id], makes_good[end.id], order, told)
    _run_in(plan, order, told)


def _one(name: str, gate: str, opens: list[Place], back: list[Place], order: Order, told: Told) -> None:
    for task, step in opens:
        at = told.at("tasks", task)
        loc: Loc = (*at, "steps", step, "opens") if step >= 0 else (*at, "lift")
        if not back:
            says, remedy = (
                f"{name} is opened and never put back.",
                f"Add `puts_back: [{name}]` to a step before gate {gate}.",
            )
            told.error("never_put_back", loc, says, remedy)
            continue
        later = [place for place in back if _follows(place, (task, step), order)]
        if not later and all(place == (task, step) for place in back):
            says = f"{name} is opened and put back in one step."
            told.error(
                "put_back_at_once",
                loc,
                says,
                "Open it where it is really opened; put it back in a later step.",
            )
            continue
        if not later:
            says = f"{name} is put back in {_tasks(back)}, which does not come after it is opened."
            told.error("put_back_too_early", loc, says, f"Put {task} before it with `after`.")
            continue
        if not _any_before(later, order.before(("gate", gate))):
            says = f"{name} is put back only in {_tasks(later)}, which does not come before gate {gate}."
            remedy = f"Make gate {gate} wait for it (`task_closed`), or name a later gate."
            told.error("put_back_after_gate", loc, says, remedy)


def _run_in(plan: Plan, order: Order, told: Told) -> None:
    gate_of = {end.id: end.gate for end in plan.loose_ends}
    before = {gate.id: order.before(("gate", gate.id)) for gate in plan.gates}
    finals: dict[str, list[Place]] = defaultdict(list)
    for task in plan.tasks:
        for index, step in enumerate(task.steps):
            if step.kind == "tighten" and step.group is not None:
                finals[step.group].append((task.id, index))
    for task in plan.tasks:
        for index, step in enumerate(task.steps):
            if step.kind not in ("run_in", "snug") or step.group is None or not finals[step.group]:
                continue  # without any final pass the group itself is the finding
            loc: Loc = (*told.at("tasks", task.id), "steps", index)
            later = [place for place in finals[step.group] if _follows(place, (task.id, index), order)]
            if not later:
                says = f"{step.group} is tightened in {_tasks(finals[step.group])}, which does not come after this step."
                told.error("final_too_early", loc, says, f"Put {task.id} before it with `after`.")
                continue
            needing = sorted({gate_of[end] for end in step.opens if gate_of.get(end) in before})
            missed = [gate for gate in needing if not _any_before(later, before[gate])]
            for gate in missed:
                says = f"{step.group} is tightened only in {_tasks(later)}, which does not come before gate {gate}."
                told.error("final_after_gate", loc, says, f"Make gate {gate} wait for it (`task_closed`).")
            passed = [
                g for g in before if ("task", task.id) in before[g] and not _any_before(later, before[g])
            ]
            if passed and not missed:
                says = f"gate {passed[0]} can open while {step.group} is not final: {_tasks(later)} may come later."
                told.doubt(
                    "loose_past_gate", loc, says, f"Is that meant? If not, let gate {passed[0]} wait for it."
                )


def _any_before(places: list[Place], before: set[Node]) -> bool:
    return any(("task", task) in before for task, _step in places)


def _follows(later: Place, earlier: Place, order: Order) -> bool:
    if later[0] == earlier[0]:
        return later[1] > earlier[1]
    return ("task", earlier[0]) in order.before(("task", later[0]))


def _tasks(places: list[Place]) -> str:
    return " and ".join(sorted({task for task, _step in places}))
