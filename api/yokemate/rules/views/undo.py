"""What comes back when a task or a bolt group is undone, shown before it is confirmed (R26)."""

from __future__ import annotations

from pydantic import BaseModel

from yokemate.rules.decide.undo import can_undo_group, can_undo_task, preview_group, preview_task
from yokemate.rules.frame import CREW, State
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Gate, Group, Lift, Task
from yokemate.rules.undo_list import UndoList, list_digest
from yokemate.rules.views.frame import View, Viewer, view


class UndoParams(BaseModel):
    """Exactly one of the two."""

    task: str | None = None
    group: str | None = None


class UndoView(View):
    title: str
    comes_back: UndoList
    list_digest: str  # echoed by the command, so that nobody confirms another list
    names: dict[str, str]  # titles of the tasks, groups, gates and lifts in the list, by id
    may_undo: bool  # False: nothing here is signed


@view("undo", "/undo", UndoParams, UndoView, who=CREW)
def undo(state: State, viewer: Viewer, params: UndoParams) -> UndoView:
    """What comes back when signed work is undone: tasks, signatures, lifts, loose ends, gates, followers."""
    if params.task is not None and params.group is None:
        task = state.get(Task, params.task)
        title, may = task.plan.title, can_undo_task(task)
        back = preview_task(state, viewer.person, viewer.now_ms, task.id) if may else UndoList()
    elif params.group is not None and params.task is None:
        group = state.get(Group, params.group)
        title, may = group.plan.name, can_undo_group(group)
        back = preview_group(state, viewer.person, viewer.now_ms, group.id) if may else UndoList()
    else:
        raise Refused(
            "bad_input", field="task", problem="Name a task or a bolt group.", remedy="Give one of the two."
        )
    return UndoView(
        as_of_ms=viewer.now_ms,
        title=title,
        comes_back=back,
        list_digest=list_digest(back),
        names=_names(state, back),
        may_undo=may,
    )


def _names(state: State, back: UndoList) -> dict[str, str]:
    about = {sign.about for sign in back.signatures} | {new.group for new in back.need_new}
    about |= {end.gate for end in back.loose_ends if end.gate is not None}
    ids = about.union(back.tasks_again, back.groups, back.gates_shut, back.waits_again, back.built_on)
    named: dict[str, str] = {}
    for id in sorted(ids):
        if (task := state.find(Task, id)) is not None:
            named[id] = task.plan.title
        elif (group := state.find(Group, id)) is not None:
            named[id] = group.plan.name
        elif (gate := state.find(Gate, id)) is not None:
            named[id] = gate.plan.name
        elif (lift := state.find(Lift, id)) is not None:
            named[id] = lift.plan.title
    return named
