"""What comes back when signed work is undone, as a list that is shown before it is confirmed (R26).

The list is read off two states, before and after; its digest is echoed by the command, so that nobody
confirms another list than the one they saw.
"""

from __future__ import annotations

import hashlib
import json
from typing import Literal

from yokemate.rules.frame import RowPart, State
from yokemate.rules.rows import Check, Countersign, Gate, Group, Lift, LooseEnd, Task

SIGNED = ("done", "closed")


class CrossedOut(RowPart):
    """A signature that no longer counts: whose, and under which task, bolt group or lift."""

    what: Literal["sign_off", "hold", "countersign", "check", "landed"]
    by: str
    about: str


class Opens(RowPart):
    """A loose end that opens."""

    what: str
    kind: str
    gate: str | None
    about: str | None


class NeedNew(RowPart):
    """Single-use fasteners that must be fitted new (R15)."""

    group: str
    bolts: list[int]


class UndoList(RowPart):
    tasks_again: list[str] = []  # signed tasks that are ready again
    signatures: list[CrossedOut] = []
    groups: list[str] = []  # no longer final
    lifts_again: list[str] = []  # that had landed, and are called anew
    need_new: list[NeedNew] = []
    loose_ends: list[Opens] = []
    gates_shut: list[str] = []
    waits_again: list[str] = []  # followers not started
    built_on: list[str] = []  # followers taken, done or closed: marked *built on undone work*


def list_digest(undo: UndoList) -> str:
    """SHA-256 of the list as sorted JSON without blanks."""
    body = json.dumps(undo.model_dump(mode="json"), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(body.encode()).hexdigest()


def undo_list_of(before: State, after: State) -> UndoList:
    """The difference that a person must know of, in a fixed order."""
    again = [old.id for old, new in _tasks(before, after) if old.state in SIGNED and new.state not in SIGNED]
    return UndoList(
        tasks_again=again,
        signatures=_signatures(before, after),
        groups=[old.id for old, new in _groups(before, after) if old.state == "final" != new.state],
        lifts_again=[old.id for old, new in _lifts(before, after) if old.state == "landed" != new.state],
        need_new=_need_new(before, after),
        loose_ends=_opens(before, after),
        gates_shut=_gates_shut(before, after),
        waits_again=[
            old.id for old, new in _tasks(before, after) if new.state == "open" and follows(old, again)
        ],
        built_on=[
            old.id
            for old, new in _tasks(before, after)
            if set(new.built_on_undone) - set(old.built_on_undone)
        ],
    )


def follows(task: Task, others: list[str]) -> bool:
    """Comes directly after one of them."""
    return task.id not in others and any(after.task in others for after in task.plan.after)


def _tasks(before: State, after: State) -> list[tuple[Task, Task]]:
    return [(old, after.get(Task, old.id)) for old in sorted(before.all(Task), key=lambda t: t.order)]


def _groups(before: State, after: State) -> list[tuple[Group, Group]]:
    return [(old, after.get(Group, old.id)) for old in sorted(before.all(Group), key=lambda g: g.id)]


def _lifts(before: State, after: State) -> list[tuple[Lift, Lift]]:
    return [(old, after.get(Lift, old.id)) for old in sorted(before.all(Lift), key=lambda one: one.id)]


def _signatures(before: State, after: State) -> list[CrossedOut]:
    gone: list[CrossedOut] = []
    for old, new in _tasks(before, after):
        if old.signed is not None and new.signed is None:
            gone.append(CrossedOut(what="sign_off", by=old.signed.by, about=old.id))
        for step, pair in sorted(old.holds.items()):
            if step not in new.holds:
                gone.append(CrossedOut(what="hold", by=pair.by, about=old.id))
    for sign in sorted(before.all(Countersign), key=lambda c: c.id):
        if sign.lapsed_ms is None and after.get(Countersign, sign.id).lapsed_ms is not None:
            gone.append(CrossedOut(what="countersign", by=sign.by, about=sign.group))
    for was, now in _lifts(before, after):
        if was.landed is not None and now.landed is None:
            gone.append(CrossedOut(what="landed", by=was.landed.by, about=was.id))
    for check in sorted(before.all(Check), key=lambda c: c.id):
        if check.state == "pin_due" and after.get(Check, check.id).state == "lapsed":
            gone.append(CrossedOut(what="check", by=check.by, about=check.group))
    return gone


def _need_new(before: State, after: State) -> list[NeedNew]:
    needs = []
    for old, new in _groups(before, after):
        had = {bolt.n for bolt in old.bolts if bolt.needs_new}
        bolts = [bolt.n for bolt in new.bolts if bolt.needs_new and bolt.n not in had]
        if bolts:
            needs.append(NeedNew(group=old.id, bolts=bolts))
    return needs


def _opens(before: State, after: State) -> list[Opens]:
    ends = [
        end for end in after.all(LooseEnd) if end.closed is None and before.find(LooseEnd, end.id) is None
    ]
    opens = [Opens(what=e.what, kind=e.kind, gate=e.gate, about=e.plan_id or e.group or e.task) for e in ends]
    return sorted(opens, key=lambda o: (o.kind, o.about or "", o.what))


def _gates_shut(before: State, after: State) -> list[str]:
    gates = sorted(before.all(Gate), key=lambda gate: (gate.order, gate.id))
    return [gate.id for gate in gates if gate.state == "open" and after.get(Gate, gate.id).state == "shut"]
