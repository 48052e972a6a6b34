"""Undoing signed work (R26): what comes back is worked out first, shown, and then happens exactly so.

A task that was signed off rests on its bolt groups: whatever takes one back (undoing, a fastener
loosened, a reading corrected, a check that moved) takes the sign-off back too. That follows from rows alone,
so it settles by itself.
"""

from __future__ import annotations

from collections.abc import Iterable

from yokemate.rules.commands.tasks import UndoTask
from yokemate.rules.commands.torque import UndoGroup
from yokemate.rules.decide.group_changes import first_crank_gate, undo_group
from yokemate.rules.decide.step_effects import steps_not_done
from yokemate.rules.frame import Ctx, Deciding, State, decides, settle_all, settles
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Group, Lift, LooseEnd, Task
from yokemate.rules.undo_list import SIGNED, UndoList, follows, list_digest, undo_list_of


@decides(UndoTask)
def undo_task(d: Deciding, cmd: UndoTask) -> None:
    task = d.get(Task, cmd.task)
    if not can_undo_task(task):
        raise Refused("nothing_to_undo")
    if list_digest(preview_task(d, d.who, d.now_ms, task.id)) != cmd.list_digest:
        raise Refused("changed_since", what="The list")
    _undo_whole_task(d, task.id, cmd.reason, cmd.note_text)


@decides(UndoGroup)
def undo_signed_group(d: Deciding, cmd: UndoGroup) -> None:
    group = d.get(Group, cmd.group)
    if not can_undo_group(group):
        raise Refused("nothing_to_undo")
    if list_digest(preview_group(d, d.who, d.now_ms, group.id)) != cmd.list_digest:
        raise Refused("changed_since", what="The list")
    undo_group(d, group.id, cmd.reason, at_ms=d.now_ms)
    if cmd.note_text is not None:
        d.tell("group.undo_noted", id=d.new_id("note"), group=group.id, text=cmd.note_text)


def can_undo_task(task: Task) -> bool:
    return task.state in SIGNED or task.to_be_undone


def can_undo_group(group: Group) -> bool:
    return group.state not in ("untouched", "undone")


def preview_task(state: State, who: str, now_ms: int, task_id: str) -> UndoList:
    """What comes back when the task is undone: found by undoing it on a copy of the rows."""
    scratch = _scratch(state, who, now_ms)
    _undo_whole_task(scratch, task_id, "other", None)
    settle_all(scratch)
    return undo_list_of(state, scratch)


def preview_group(state: State, who: str, now_ms: int, group_id: str) -> UndoList:
    """What comes back when the bolt group is undone."""
    scratch = _scratch(state, who, now_ms)
    undo_group(scratch, group_id, "other", at_ms=now_ms)
    settle_all(scratch)
    return undo_list_of(state, scratch)


def _scratch(state: State, who: str, now_ms: int) -> Deciding:
    return Deciding(state, Ctx(id="preview", who=who, device="", now_ms=now_ms, device_ms=now_ms))


def _undo_whole_task(d: Deciding, task_id: str, reason: str, note: str | None) -> None:
    """The task is taken back first, so that its groups, undone next, find no sign-off left to take back."""
    task = d.get(Task, task_id)
    _reopen(d, task, [step.id for step in task.plan.steps], [*task.holds], reason, note)
    if task.state != "left_out":
        _open_undone(d, task)
    for lift in sorted(d.all(Lift), key=lambda one: one.id):
        if lift.task == task.id and lift.state == "landed":
            d.tell("lift.reopened", lift=lift.id)
    groups = dict.fromkeys(step.group for step in task.plan.steps if step.group is not None)
    for group in [d.find(Group, group_id) for group_id in groups]:
        if group is not None and can_undo_group(group):
            undo_group(d, group.id, reason, at_ms=d.now_ms)


def _reopen(
    d: Deciding, task: Task, steps: list[str], holds: Iterable[str], reason: str, note: str | None = None
) -> None:
    """Cross out the sign-off, these steps' ticks and these hold points; mark what was built on it."""
    state = task.state if task.state in ("taken", "left_out") else "open"
    d.tell(
        "task.undone",
        task=task.id,
        state=state,
        ticks=[step for step in dict.fromkeys([*steps, *holds]) if step in task.ticks],
        holds=sorted(holds),
        whole=len(steps) == len(task.plan.steps),
        reason=reason,
        note=note,
    )
    steps_not_done(d, task, steps)
    if task.state not in SIGNED:
        return
    for follower in sorted(d.all(Task), key=lambda t: t.order):
        begun = follower.state in ("taken", *SIGNED)
        if begun and follows(follower, [task.id]) and task.id not in follower.built_on_undone:
            d.tell("task.built_on_undone", task=follower.id, on=task.id)


def _open_undone(d: Deciding, task: Task) -> None:
    """The undone task itself is a loose end until it is signed off again."""
    for end in d.all(LooseEnd):
        if end.kind == "undone" and end.group is None and end.restores_task == task.id and end.closed is None:
            return
    d.tell(
        "loose_end.opened",
        id=d.new_id(f"{task.id}.undone"),
        what=task.plan.title,
        kind="undone",
        zone=task.plan.zone,
        gate=first_crank_gate(d),
        task=task.id,
        restores_task=task.id,
    )


@settles
def sign_off_rests_on_groups(d: Deciding) -> None:
    """A signed task whose group is no longer final is open again; hold points after it are crossed out."""
    for task in sorted(d.all(Task), key=lambda t: t.order):
        if task.state not in ("taken", *SIGNED):
            continue
        fallen = [i for i, step in enumerate(task.plan.steps) if _rests_on_fallen(d, task, i)]
        if not fallen:
            continue
        steps = [task.plan.steps[i].id for i in fallen]
        after = {step.id for step in task.plan.steps[fallen[0] :]} | {"end"}
        holds = [step for step in task.holds if step in after]
        ticked = [step for step in steps if step in task.ticks]
        if task.state in SIGNED or ticked or holds:
            _reopen(d, task, steps, holds, "undone")


def _rests_on_fallen(d: Deciding, task: Task, index: int) -> bool:
    """A tighten step that counted as done, whose group is no longer final."""
    step = task.plan.steps[index]
    if step.kind != "tighten" or step.group is None:
        return False
    group = d.find(Group, step.group)
    if group is None or group.left_out or group.state == "final":
        return False
    tick = task.ticks.get(step.id)
    if tick is not None and tick.left_out:
        return False
    if task.state in SIGNED or tick is not None:
        return True
    return group.undone_ms is not None and any(group.undone_ms > pair.at_ms for pair in task.holds.values())
