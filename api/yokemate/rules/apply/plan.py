"""How a loaded plan becomes rows, and how a later version of it changes them. Nothing is worked out here (R2)."""

from __future__ import annotations

from typing import Any

from yokemate.planfile.model import Plan, TaskPlan, TorqueWrenchPlan
from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows import Build, Gate, Group, Lift, Part, Task, Tool, TorqueWrench
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.lifts import Share, Verdict
from yokemate.rules.rows.stores import WrenchCheck
from yokemate.rules.rows.torque import Bolt

SIGNED = ("done", "closed")
LIFT_STAYS = ("in_place", "lifting", "held", "landed")


@applies("plan.loaded")
def loaded(
    draft: Draft, at: At, *, plan: dict[str, Any], digest: str, options: dict[str, str],
    groups: dict[str, dict[str, Any]], lifts: dict[str, dict[str, Any]], certificates: dict[str, dict[str, Any]],
    head: int, left_out: list[str], gone: list[str], unticked: dict[str, list[str]], groups_left_out: list[str],
) -> None:  # fmt: skip
    new = Plan.model_validate(plan)
    draft.change(
        Build, "build", plan_name=new.name, plan_digest=digest, plan_at=head, manual=new.manual, options=options,
        choices=new.options, loose_ends=new.loose_ends, bags=new.bags, cuts=new.cuts, stages=new.stages,
        zones=new.zones, skills=new.skills, default_tolerance_percent=new.default_tolerance_percent,
    )  # fmt: skip
    for task_id in gone:
        draft.drop(Task, task_id)
    planned = {task.id for task in new.tasks}
    for order, task in enumerate(new.tasks):
        _task(draft, task, order, task.id in left_out, unticked.get(task.id, []))
    for task_id in left_out:
        if task_id not in planned:
            _leave_out(draft, task_id, retired=True)
    _groups(draft, new, groups, groups_left_out)
    _lifts(draft, new, lifts)
    _gates(draft, new)
    _stores(draft, new, certificates)


@applies("plan.options_chosen")
def options_chosen(
    draft: Draft,
    at: At,
    *,
    options: dict[str, str],
    head: int,
    left_out: list[str],
    groups_left_out: list[str],
) -> None:
    draft.change(Build, "build", options=options, plan_at=head)
    for task in list(draft.all(Task)):
        if task.id in left_out:
            _leave_out(draft, task.id, retired=task.retired)
        elif task.state == "left_out":
            _bring_back(draft, task)
    for group in list(draft.all(Group)):
        draft.change(Group, group.id, left_out=group.id in groups_left_out)


@applies("task.released")
def released(draft: Draft, at: At, *, task: str, reason: str) -> None:
    draft.change(Task, task, released=Pair(by=at.by, at_ms=at.at_ms), released_reason=reason)


@applies("task.mark_cleared")
def mark_cleared(draft: Draft, at: At, *, task: str, reason: str) -> None:
    draft.change(Task, task, built_on_undone=[])


def _task(draft: Draft, plan: TaskPlan, order: int, left_out: bool, unticked: list[str]) -> None:
    old = draft.find(Task, plan.id)
    if old is None:
        draft.put(Task(id=plan.id, plan=plan, order=order, state="left_out" if left_out else "open"))
        return
    ticks = {step: tick for step, tick in old.ticks.items() if step not in unticked}
    row = draft.change(Task, plan.id, plan=plan, order=order, ticks=ticks, retired=False)
    if left_out:
        _leave_out(draft, plan.id, retired=False)
    elif row.state == "left_out":
        _bring_back(draft, row)


def _leave_out(draft: Draft, task_id: str, *, retired: bool) -> None:
    old = draft.get(Task, task_id)
    draft.change(
        Task, task_id, state="left_out", retired=retired, to_be_undone=old.to_be_undone or old.state in SIGNED
    )


def _bring_back(draft: Draft, task: Task) -> None:
    """Signed work that was to be undone, and wasn't, counts again."""
    state = "done" if task.signed is not None else "open"
    draft.change(Task, task.id, state=state, to_be_undone=False)


def _groups(draft: Draft, plan: Plan, figures: dict[str, dict[str, Any]], left_out: list[str]) -> None:
    specs = {spec.id: spec for spec in plan.specs}
    for group in plan.groups:
        figure = figures[group.id]
        old = draft.find(Group, group.id)
        passes = figure["passes"]
        had = {bolt.n: bolt for bolt in old.bolts} if old is not None else {}
        if old is not None and old.passes != passes:
            had = {n: bolt.model_copy(update={"passes": {}}) for n, bolt in had.items()}
        fields: dict[str, Any] = {
            "plan": group, "spec": specs[group.spec], "tolerance": tuple(figure["tolerance"]),
            "tolerance_is_default": figure["tolerance_is_default"], "order": figure["order"], "passes": passes,
            "bolts": [had.get(bolt.n) or Bolt(n=bolt.n) for bolt in group.fasteners],
            "left_out": group.id in left_out,
        }  # fmt: skip
        if old is None:
            draft.put(Group(id=group.id, **fields))
        else:
            draft.change(Group, group.id, **fields)
    planned = {group.id for group in plan.groups}
    for row in list(draft.all(Group)):
        if row.id not in planned:
            draft.change(Group, row.id, left_out=True)


def _lifts(draft: Draft, plan: Plan, figures: dict[str, dict[str, Any]]) -> None:
    task_of = {task.lift: task.id for task in plan.tasks if task.lift is not None}
    for lift in plan.lifts:
        old = draft.find(Lift, lift.id)
        if old is not None and ((old.planned or old.plan) == lift or old.state in LIFT_STAYS):
            outdated = (old.planned or old.plan) != lift
            draft.change(Lift, lift.id, task=task_of.get(lift.id), outdated=outdated)
            continue
        figure = figures[lift.id]
        draft.put(
            Lift(
                id=lift.id,
                plan=lift,
                task=task_of.get(lift.id),
                unfit=figure["unfit"],
                shares=[Share.model_validate(share) for share in figure["shares"]],
                shares_by=figure["shares_by"],
                verdicts=[Verdict.model_validate(verdict) for verdict in figure.get("verdicts", [])],
                round=old.round if old is not None else 0,
            )
        )
    planned = {lift.id for lift in plan.lifts}
    for row in list(draft.all(Lift)):
        if row.id not in planned and row.state not in LIFT_STAYS:
            draft.drop(Lift, row.id)


def _gates(draft: Draft, plan: Plan) -> None:
    for order, gate in enumerate(plan.gates):
        if draft.find(Gate, gate.id) is None:
            draft.put(Gate(id=gate.id, plan=gate, order=order, wanted_on=gate.wanted_on))
        else:
            old = draft.get(Gate, gate.id)
            said = old.wanted_on if gate.wanted_on == old.plan.wanted_on else gate.wanted_on
            draft.change(Gate, gate.id, plan=gate, order=order, wanted_on=said)
    planned = {gate.id for gate in plan.gates}
    for row in list(draft.all(Gate)):
        if row.id not in planned:
            draft.drop(Gate, row.id)


def _stores(draft: Draft, plan: Plan, certificates: dict[str, dict[str, Any]]) -> None:
    for tool in plan.tools:
        had = draft.find(Tool, tool.id)
        draft.put(Tool(id=tool.id, plan=tool, out=had.out if had is not None else {}))
        if tool.torque_wrench is not None:
            _torque_wrench(draft, tool.id, tool.name, tool.torque_wrench, certificates.get(tool.id))
    bag_of = {use.part: bag.id for bag in plan.bags for use in bag.holds}
    for part in plan.parts:
        bought = 0 if part.source == "donor" else part.count
        old = draft.find(Part, part.id)
        if old is None:
            draft.put(
                Part(
                    id=part.id,
                    plan=part,
                    in_stock=bought,
                    bag=bag_of.get(part.id),
                    expected_on=part.expected_on,
                )
            )
            continue
        due = old.expected_on if part.expected_on == old.plan.expected_on else part.expected_on
        more = 0 if part.source == "donor" else part.count - old.plan.count
        draft.change(
            Part,
            part.id,
            plan=part,
            in_stock=max(0, old.in_stock + more),
            bag=bag_of.get(part.id, old.bag),
            expected_on=due,
        )


def _torque_wrench(
    draft: Draft, id: str, name: str, plan: TorqueWrenchPlan, certificate: dict[str, Any] | None
) -> None:
    old = draft.find(TorqueWrench, id)
    check = WrenchCheck.model_validate(certificate) if certificate is not None else None
    if old is None:
        draft.put(TorqueWrench(id=id, name=name, plan=plan, checks=[check] if check else []))
        return
    checks = (
        [*old.checks, check] if check is not None and old.plan.checked_on != plan.checked_on else old.checks
    )
    draft.change(TorqueWrench, id, name=name, plan=plan, checks=sorted(checks, key=lambda c: c.at_ms))
