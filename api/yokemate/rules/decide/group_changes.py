"""What follows when something happens to a bolt group: final, no longer final, undone, interrupted, lapses.

Every function here tells entries; they are called by the commands of torque and checks, and by those of other
subjects whose acts touch groups (undoing, getting stuck, going home, passing on, taking over, loading a
plan).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from yokemate.rules.frame import Deciding, State
from yokemate.rules.rows import Check, Gate, Group, LooseEnd, Reading, Task
from yokemate.rules.rows.torque import Bolt
from yokemate.rules.tightening import (
    final_readings,
    never_again,
    readings_digest,
    steps_of,
    taken_ms,
    to_tolerance,
)
from yokemate.rules.why_lapsed import LapsedWhy

GROUP_ENDS = ("run_in", "snugged", "undone", "loosened")


def moment_ms(d: Deciding) -> int:
    """When the reported thing happened: the phone's clock, but never after the service had it."""
    return min(d.ctx.device_ms, d.now_ms)


def as_json(bolts: Sequence[Bolt]) -> list[dict[str, Any]]:
    return [bolt.model_dump(mode="json") for bolt in bolts]


def state_of(group: Group, changed: Sequence[Bolt]) -> str:
    """How far the group has come with these fasteners changed; *final* has an entry of its own."""
    now = {bolt.n: bolt for bolt in group.bolts} | {bolt.n: bolt for bolt in changed}
    bolts = list(now.values())
    if any(bolt.passes or bolt.final or bolt.outside for bolt in bolts):
        return "started"
    if any(bolt.snug for bolt in bolts):
        return "snug"
    if any(bolt.run_in for bolt in bolts):
        return "run_in"
    return "undone" if any(bolt.undone_ms for bolt in bolts) else "untouched"


def lapse(d: Deciding, group_id: str, why: LapsedWhy) -> None:
    """Cross out the countersign in force and the checks that wait for a PIN (R14)."""
    group = d.get(Group, group_id)
    if group.countersign is not None:
        d.tell("countersign.lapsed", countersign=group.countersign, group=group_id, why=why)
    waiting = sorted(c.id for c in d.all(Check) if c.group == group_id and c.state == "pin_due")
    if waiting:
        d.tell("check.lapsed", checks=waiting, why=why)


def settle_group(d: Deciding, group_id: str, was_final: bool) -> None:
    """Say that the group is final, with the digest of what makes it so; or that it no longer is.

    Final closes what running in, snugging or undoing had left loose. A group that was final and no longer is,
    is a
    loose end again (R23).
    """
    group = d.get(Group, group_id)
    if all(bolt.final for bolt in group.bolts):
        digest = readings_digest(final_readings(d, group))
        if not was_final or digest != group.readings_digest:
            d.tell("group.final", group=group_id, readings_digest=digest)
        for end in _restored_ends(d, group_id):
            d.tell("loose_end.closed", id=end.id, how="final")
    elif was_final:
        open_end(d, group_id, "undone")


def open_end(d: Deciding, group_id: str, kind: str, task: str | None = None) -> None:
    """Open the group's own loose end, once: *not tight*, put right by the step that tightens the group."""
    if any(e.group == group_id and e.kind == kind and e.closed is None for e in d.all(LooseEnd)):
        return
    group = d.get(Group, group_id)
    restoring = next(steps_of(d, group_id, "tighten"), None)
    d.tell(
        "loose_end.opened",
        id=d.new_id(f"{group_id}.{kind}"),
        what=group.plan.name,
        kind=kind,
        where=group.plan.seen_from,
        zone=restoring[0].plan.zone if restoring else None,
        gate=first_crank_gate(d),
        plan_id=None,
        group=group_id,
        task=task or (restoring[0].id if restoring else None),
        restores_task=restoring[0].id if restoring else None,
        restores_step=restoring[1].id if restoring else None,
        note=None,
        photo=None,
    )


def first_crank_gate(state: State) -> str | None:
    """The gate an unplanned loose end belongs to: the first crank, else the first gate there is (R23)."""
    gates = sorted(state.all(Gate), key=lambda gate: gate.order)
    cranks = [gate for gate in gates if gate.plan.kind == "first_crank"]
    return (cranks or gates)[0].id if gates else None


def _restored_ends(d: Deciding, group_id: str) -> list[LooseEnd]:
    """Open loose ends that this group made good by becoming final.

    A planned one that several tighten steps put back closes with the last of their groups.
    """
    planned = {pid for _, step in steps_of(d, group_id, "tighten") for pid in step.puts_back}
    ends = []
    for end in sorted(d.all(LooseEnd), key=lambda e: e.id):
        if end.closed is not None:
            continue
        if end.plan_id is not None and end.plan_id in planned:
            if _all_final(d, end.plan_id):
                ends.append(end)
        elif end.plan_id is None and end.group == group_id and end.kind in GROUP_ENDS:
            ends.append(end)
        elif end.plan_id is not None and end.group == group_id and end.kind in GROUP_ENDS:
            if not _put_back_anywhere(d, end.plan_id):
                ends.append(end)
    return ends


def _steps_putting_back(d: Deciding, plan_id: str) -> list[tuple[str, str | None]]:
    return [
        (step.kind, step.group)
        for task in d.all(Task)
        if task.state != "left_out"
        for step in task.plan.steps
        if plan_id in step.puts_back
    ]


def _put_back_anywhere(d: Deciding, plan_id: str) -> bool:
    return bool(_steps_putting_back(d, plan_id))


def _all_final(d: Deciding, plan_id: str) -> bool:
    """Every tighten step that puts it back has its group final."""
    groups = [gid for kind, gid in _steps_putting_back(d, plan_id) if kind == "tighten" and gid is not None]
    return all(d.get(Group, gid).state == "final" for gid in groups)


def drop_readings(d: Deciding, group_id: str, bolts: Collection[int], why: str) -> None:
    """Take what these fasteners were read at to tolerance back: crossed out with the reason (R12 to R14).

    One that may never be turned again, and was, begins anew: its last pass repeated would be a turn too many (R15).
    """
    group = d.get(Group, group_id)
    lost = {b.n: _lost(group, b) for b in group.bolts if b.n in bolts}
    hit = [b for b in group.bolts if lost.get(b.n)]
    if not hit:
        return
    was_final = group.state == "final"
    changed = [_taken_back(group, b, lost[b.n]) for b in hit]
    d.tell(
        "group.not_final",
        group=group_id,
        bolts=as_json(changed),
        readings=[b.passes[n] for b in hit for n in lost[b.n]],
        why=why,
        state=state_of(group, changed),
    )
    if was_final:
        open_end(d, group_id, "undone")


def _lost(group: Group, bolt: Bolt) -> list[str]:
    """The passes that go when this fastener's final figure is taken back."""
    if _was_turned(group, bolt):
        return list(bolt.passes)
    return [n for n in bolt.passes if to_tolerance(group, int(n))]


def _was_turned(group: Group, bolt: Bolt) -> bool:
    return any(never_again(group, int(n)) for n in bolt.passes)


def _taken_back(group: Group, bolt: Bolt, lost: Collection[str]) -> Bolt:
    return bolt.model_copy(
        update={
            "passes": {n: reading for n, reading in bolt.passes.items() if n not in lost},
            "final": False,
            "outside": False,
            "needs_new": bolt.needs_new or (group.plan.single_use and _was_turned(group, bolt)),
        }
    )


def interrupt_group(d: Deciding, group_id: str, why: str) -> bool:
    """A final pass that was begun and is not finished starts again at its first fastener (R10). True if there
    was one.

    Fasteners that may never be turned again keep their last pass: starting again would turn them twice (R15).
    """
    group = d.get(Group, group_id)
    last = str(group.passes)
    begun = [b for b in group.bolts if last in b.passes]
    if not begun or len(begun) == len(group.bolts) or not group.plan.retighten:
        return False
    changed = [_taken_back(group, b, [last]) for b in begun]
    d.tell(
        "torque.interrupted",
        group=group_id,
        from_ms=moment_ms(d),
        bolts=as_json(changed),
        readings=[b.passes[last] for b in begun],
        state=state_of(group, changed),
        why=why,
    )
    return True


def interrupt_groups(d: Deciding, task: Task, why: str) -> None:
    """Interrupt every begun final pass of a task that gets stuck, goes home, is passed on or taken over
    (R10).
    """
    for group_id in dict.fromkeys(s.group for s in task.plan.steps if s.kind == "tighten" and s.group):
        if d.find(Group, group_id) is not None:
            interrupt_group(d, group_id, why)


def undo_group(
    d: Deciding, group_id: str, reason: str, bolts: Collection[int] | None = None, at_ms: int | None = None
) -> None:
    """Say that fasteners of a group were undone (R14, R15, R23, R26): all, or those given.

    Their readings are crossed out, single-use fasteners that had been turned need a new one, the countersign
    and
    the waiting checks lapse, a loose end opens. Undoing all of them begins a new round: who touched the group
    before
    may check it now. A fastener that was read after the moment of the report keeps its reading: the report is
    late.
    """
    group = d.get(Group, group_id)
    named = [b for b in group.bolts if bolts is None or b.n in bolts]
    at_ms = moment_ms(d) if at_ms is None else at_ms
    late = [b.n for b in named if _read_after(d, b, at_ms)]
    hit = [b for b in named if b.n not in late]
    whole = len(hit) == len(group.bolts)
    changed = [
        Bolt(
            n=b.n,
            needs_new=b.needs_new or (group.plan.single_use and bool(b.passes or b.final or b.outside)),
            fitted_new=b.fitted_new,
            undone_ms=at_ms,
        )
        for b in hit
    ]
    if hit:
        lapse(d, group_id, "undone")
    d.tell(
        "group.undone",
        group=group_id,
        bolts=as_json(changed),
        late=late,
        readings=[rid for b in hit for rid in b.passes.values()],
        reason=reason,
        whole=whole,
        undone_ms=at_ms,
        state=state_of(group, changed) if hit else group.state,
    )
    if hit:
        open_end(d, group_id, "undone")


def _read_after(d: Deciding, bolt: Bolt, at_ms: int) -> bool:
    return any(taken_ms(d.get(Reading, rid)) > at_ms for rid in bolt.passes.values())


def touch(d: Deciding, group: Group, helped: Collection[str]) -> list[str]:
    """`touched` with who did it now, who helped, and who typed it for somebody else (R13)."""
    now = [d.who, *helped, *([d.ctx.typed_by] if d.ctx.typed_by else [])]
    return list(dict.fromkeys([*group.touched, *now]))
