"""Loose ends: what was run in, loosened, opened, dropped or borrowed and must be made good (R22, R23).

Planned ones are opened and put back by steps of tasks, those of bolt groups by what happens to the group
(`group_changes`); here are the ones that people report, that a lift leaves, and how one is closed by hand.
"""

from __future__ import annotations

from yokemate.rules.commands.gates import MakeGood, ProposeAnotherWay, ReportLooseEnd
from yokemate.rules.decide.group_changes import first_crank_gate
from yokemate.rules.decide.proposals import need_adult, propose, seconds, still
from yokemate.rules.frame import Deciding, State, decides, settles
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Gate, Group, Lift, LooseEnd, Member, Proposal, Task

PHRASES = {
    "dropped": "Something dropped",
    "left_in": "Something left in",
    "loosened": "Something loosened",
    "unplugged": "Something unplugged",
    "opened": "Something opened",
    "propped": "Something propped",
    "borrowed": "Something borrowed from the car",
    "other": "Something to be made good",
}
GROUP_KINDS = ("run_in", "snugged", "undone", "loosened")


@decides(ReportLooseEnd)
def report(d: Deciding, cmd: ReportLooseEnd) -> None:
    """Two taps by anybody; it holds the first crank unless said otherwise (R23)."""
    task = d.get(Task, cmd.task) if cmd.task is not None else None
    zones = [zone.id for zone in d.get(Build, "build").zones]
    if cmd.zone is not None and cmd.zone not in zones:
        raise Refused("unknown", what="zone", id=cmd.zone)
    gate = d.get(Gate, cmd.gate).id if cmd.gate is not None else first_crank_gate(d)
    d.tell(
        "loose_end.opened",
        id=d.new_id("loose"),
        what=PHRASES[cmd.kind],
        kind=cmd.kind,
        zone=cmd.zone or (task.plan.zone if task is not None else None),
        gate=gate,
        task=cmd.task,
        note=cmd.what_text,
        photo=cmd.photo,
    )


@decides(MakeGood)
def make_good(d: Deciding, cmd: MakeGood) -> None:
    end = d.get(LooseEnd, cmd.loose_end)
    _need_open(end)
    why_not = not_made_good(d, end)
    if why_not is not None:
        raise why_not
    d.tell("loose_end.closed", id=end.id, how="made_good", photo=cmd.photo)


def not_made_good(state: State, end: LooseEnd) -> Refused | None:
    """Why one person's word does not make it good: a step to come does, or it holds a critical joint (R13, R23)."""
    restoring = restored_by(state, end)
    if restoring is not None:
        return Refused("made_good_by_step", task=restoring[0], step=restoring[1])
    group = state.find(Group, end.group) if end.group is not None else None
    if group is not None and group.plan.critical and group.state != "final":
        return Refused("critical_by_two", group=group.plan.name)
    return None


def restored_by(state: State, end: LooseEnd) -> tuple[str, str] | None:
    """The task and step that alone make it good, while that step is still to come (R23)."""
    if end.restores_task is None:
        return None
    task = state.find(Task, end.restores_task)
    if task is None or task.state == "left_out":
        return None
    group = state.find(Group, end.group) if end.group is not None and end.kind in GROUP_KINDS else None
    if group is not None:
        return None if group.left_out else (task.id, end.restores_step or "")
    if task.state in ("done", "closed") or (end.restores_step or "") in task.ticks:
        return None
    return task.id, end.restores_step or ""


def _need_open(end: LooseEnd) -> None:
    if end.closed is not None:
        raise Refused("already_closed")


@decides(ProposeAnotherWay)
def propose_another_way(d: Deciding, cmd: ProposeAnotherWay) -> None:
    need_adult(d.get(Member, d.who))
    end = d.get(LooseEnd, cmd.loose_end)
    _need_open(end)
    propose(d, "put_right", end.id, reason=cmd.reason_text)


@still("put_right")
def still_open(state: State, proposal: Proposal, now_ms: int) -> bool:
    return state.get(LooseEnd, proposal.about).closed is None


@seconds("put_right")
def put_right(d: Deciding, proposal: Proposal) -> None:
    d.tell("loose_end.closed", id=proposal.about, how="another_way")


def open_propped(d: Deciding, lift: Lift) -> None:
    """Landing leaves something propped: the loose ends that the lift's plan names (R22)."""
    planned = {end.id: end for end in d.get(Build, "build").loose_ends}
    for plan_id in lift.plan.propped:
        already = any(end.plan_id == plan_id and end.closed is None for end in d.all(LooseEnd))
        if plan_id not in planned or already:
            continue
        plan = planned[plan_id]
        task, step = planned_restorer(d, plan_id) or (None, None)
        d.tell(
            "loose_end.opened",
            id=d.new_id(f"propped-{plan_id}"),
            what=plan.what,
            kind=plan.kind,
            where=plan.where,
            zone=_zone_of(d, lift),
            gate=plan.gate,
            plan_id=plan_id,
            task=lift.task,
            restores_task=task,
            restores_step=step,
        )


def open_landed_elsewhere(d: Deciding, lift: Lift, note: str) -> None:
    d.tell(
        "loose_end.opened",
        id=d.new_id("elsewhere"),
        what=f"{lift.plan.title}: landed elsewhere",
        kind="landed_elsewhere",
        zone=_zone_of(d, lift),
        gate=first_crank_gate(d),
        task=lift.task,
        note=note,
    )


def planned_restorer(state: State, plan_id: str) -> tuple[str, str] | None:
    """The task and step that put a planned loose end back; where several do, the last in the plan."""
    tasks = sorted((t for t in state.all(Task) if t.state != "left_out"), key=lambda t: t.order)
    found = [(task.id, step.id) for task in tasks for step in task.plan.steps if plan_id in step.puts_back]
    return found[-1] if found else None


def _zone_of(d: Deciding, lift: Lift) -> str | None:
    task = d.find(Task, lift.task) if lift.task is not None else None
    return task.plan.zone if task is not None else None


@settles
def done_again(d: Deciding) -> None:
    """Work that was undone is no longer loose once its task is signed off again (R26)."""
    for end in list(d.all(LooseEnd)):
        if (
            end.kind != "undone"
            or end.closed is not None
            or end.group is not None
            or end.restores_task is None
        ):
            continue
        task = d.find(Task, end.restores_task)
        if task is not None and task.state in ("done", "closed"):
            d.tell("loose_end.closed", id=end.id, how="put_back")
