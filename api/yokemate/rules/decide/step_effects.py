"""What a done step opens, puts back and harvests, and what comes back when it turns out not to be done (R23)."""

from __future__ import annotations

from collections.abc import Iterable

from yokemate.planfile.model import LooseEndPlan, Step
from yokemate.rules.decide.loose_ends import planned_restorer
from yokemate.rules.frame import Deciding
from yokemate.rules.rows import Build, LooseEnd, Part, Task

_KINDS = {"loosen": "loosened", "unplug": "unplugged", "open": "opened", "prop": "propped"}


def step_done(d: Deciding, task: Task, step: Step) -> None:
    """Its planned loose ends open or close; what it harvests goes to the shelf."""
    plans = _planned(d)
    for plan_id in step.opens:
        if plan_id in plans and not _is_open(d, plan_id):
            kind = _KINDS.get(step.kind, plans[plan_id].kind)
            _open(d, task, plans[plan_id], f"end.{plan_id}", kind, planned_restorer(d, plan_id))
    for plan_id in step.puts_back:
        for end in [e for e in d.all(LooseEnd) if e.plan_id == plan_id and e.closed is None]:
            if end.kind not in ("run_in", "snugged") or end.group is None:
                d.tell("loose_end.closed", id=end.id, how="put_back")
    if step.kind == "harvest":
        _harvest(d, step, 1, "harvested")


def steps_not_done(d: Deciding, task: Task, steps: Iterable[str]) -> None:
    """What these steps had put back is loose again, what they had harvested is not there. `task`: before it lost the ticks.

    Bolts are left out: what happens to their group says whether they are loose.
    """
    plans = _planned(d)
    for step in [one for one in task.plan.steps if one.id in steps and one.kind != "tighten"]:
        for plan_id in step.puts_back:
            was_put_back = any(e.plan_id == plan_id and e.closed_how == "put_back" for e in d.all(LooseEnd))
            if plan_id in plans and was_put_back and not _is_open(d, plan_id):
                restorer = planned_restorer(d, plan_id) or (task.id, step.id)
                _open(d, task, plans[plan_id], f"{plan_id}.again", plans[plan_id].kind, restorer)
        tick = task.ticks.get(step.id)
        if step.kind == "harvest" and tick is not None and not tick.left_out:
            _harvest(d, step, -1, "not_harvested")


def _planned(d: Deciding) -> dict[str, LooseEndPlan]:
    return {end.id: end for end in d.get(Build, "build").loose_ends}


def _is_open(d: Deciding, plan_id: str) -> bool:
    return any(end.plan_id == plan_id and end.closed is None for end in d.all(LooseEnd))


def _open(
    d: Deciding, task: Task, plan: LooseEndPlan, id: str, kind: str, restorer: tuple[str, str] | None
) -> None:
    restores_task, restores_step = restorer or (None, None)
    d.tell(
        "loose_end.opened", id=d.new_id(id), what=plan.what, kind=kind, where=plan.where, zone=task.plan.zone,
        gate=plan.gate, plan_id=plan.id, group=None, task=task.id, restores_task=restores_task,
        restores_step=restores_step, note=None, photo=None,
    )  # fmt: skip


def _harvest(d: Deciding, step: Step, count: int, why: str) -> None:
    part = d.find(Part, step.part) if step.part is not None else None
    if part is None or part.in_stock + count < 0:
        return
    bag = step.bag or part.bag
    d.tell("part.moved", part=part.id, in_stock=part.in_stock + count, in_use=part.in_use, bag=bag, why=why)
