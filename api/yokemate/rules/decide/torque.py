"""Readings and what goes with them: reports, never refused when well formed; what does not count says why
(R11, R12).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection

from yokemate.rules.commands.torque import (
    AskCheck,
    Brought,
    NewFastener,
    ReportLoosened,
    RunIn,
    StopHere,
    TakeReadings,
)
from yokemate.rules.decide.group_changes import (
    as_json,
    interrupt_group,
    lapse,
    moment_ms,
    open_end,
    settle_group,
    state_of,
    touch,
    undo_group,
)
from yokemate.rules.decide.loose_ends import planned_restorer
from yokemate.rules.decide.ready_made import propose_unfit_wrench, report_damage, report_two_sets
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.judging import Verdict, judge, task_of
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Group, LooseEnd, Member, Reading, TorqueWrench
from yokemate.rules.rows.torque import Bolt
from yokemate.rules.taking import people_on
from yokemate.rules.tightening import CALC, asked, is_final, steps_of, taken_ms, to_tolerance
from yokemate.units import QuantityError, parse_number


@decides(TakeReadings)
def take_readings(d: Deciding, cmd: TakeReadings) -> None:
    group = d.get(Group, cmd.group)
    if not 1 <= cmd.pass_no <= group.passes:
        raise Refused(
            "bad_input",
            field="pass_no",
            problem=f"this group has {group.passes} passes.",
            remedy="Say which of them.",
        )
    _known_bolts(group, [b.n for b in cmd.bolts])
    wrench = _wrench_of(d, group, cmd)
    for person in cmd.helped:
        d.get(Member, person)
    task = task_of(d, group.id, cmd.task)
    was_final = group.state == "final"
    clicks = sum(1 for b in cmd.bolts if b.reading is None)
    judged = [_judge_new(d, cmd, group, wrench, brought, task, clicks) for brought in cmd.bolts]

    standing = {b.n: b for b in group.bolts}
    changed = [
        bolt
        for reading, verdict in judged
        if (bolt := bolt_after(standing[reading.bolt], reading, verdict, group)) is not None
    ]
    d.tell(
        "torque.read",
        group=group.id,
        readings=[reading.model_dump(mode="json") for reading, _ in judged],
        superseded=superseded(standing, changed),
        bolts=as_json(changed),
        state="final" if was_final and all(b.final for b in changed) else state_of(group, changed),
        touched=touch(d, group, cmd.helped),
    )
    lapse(d, group.id, "new_reading")
    unfit = next((verdict.deviation for _, verdict in judged if verdict.deviation is not None), None)
    if unfit is not None and wrench is not None:
        propose_unfit_wrench(d, group.id, task, wrench, unfit)
    for reading, _ in judged:
        report_two_sets(d, group, reading, task)
    report_damage(d, group.id, task, cmd.faces, cmd.threads)
    settle_group(d, group.id, was_final)


def _wrench_of(d: Deciding, group: Group, cmd: TakeReadings) -> TorqueWrench | None:
    """The torque wrench of this pass; None where it only turns."""
    asks = asked(group, cmd.pass_no)
    if asks.percent is None:
        if cmd.wrench or cmd.set_value or cmd.unit or any(b.reading for b in cmd.bolts):
            raise Refused(
                "bad_input",
                field="wrench",
                problem=f"pass {cmd.pass_no} turns each fastener by {asks.angle_deg}°; no torque wrench measures that.",
                remedy="Leave torque wrench and readings out, and say angle_deg of each bolt.",
            )
        return None
    for field in ("wrench", "set_value", "unit"):
        if getattr(cmd, field) is None:
            raise Refused(
                "bad_input",
                field=field,
                problem=f"pass {cmd.pass_no} is made with a torque wrench.",
                remedy="Name the torque wrench, what it was set to, and the unit.",
            )
    return d.get(TorqueWrench, cmd.wrench or "")


def _judge_new(
    d: Deciding,
    cmd: TakeReadings,
    group: Group,
    wrench: TorqueWrench | None,
    brought: Brought,
    task: str | None,
    clicks: int,
) -> tuple[Reading, Verdict]:
    reading = Reading(
        id=d.new_id(f"b{brought.n}"),
        group=group.id,
        round=group.round,
        task=task,
        bolt=brought.n,
        pass_no=cmd.pass_no,
        wrench=cmd.wrench,
        extension_mm=cmd.extension_mm,
        extension_angle_deg=cmd.extension_angle_deg,
        drag=cmd.drag,
        set_value=cmd.set_value,
        unit=cmd.unit,
        value=brought.reading,
        angle_deg=brought.angle_deg,
        gap_mm=brought.gap_mm,
        faces=cmd.faces,
        threads=cmd.threads,
        by=d.who,
        helped=cmd.helped,
        at_ms=d.now_ms,
        device_ms=d.ctx.device_ms,
        photo=cmd.photo,
    )
    return with_verdict(d, group, wrench, reading, clicks)


def with_verdict(
    d: Deciding,
    group: Group,
    wrench: TorqueWrench | None,
    reading: Reading,
    clicks: int = 1,
    instead_of: Reading | None = None,
) -> tuple[Reading, Verdict]:
    """The reading with its verdict written in; bad_input when a figure can't be read (R32)."""
    try:
        for name in ("set_value", "value"):
            text = getattr(reading, name)
            if text is not None and parse_number(text, name) <= 0:
                raise QuantityError(
                    name, "a torque is more than nothing.", "Type what the torque wrench showed."
                )
        for name in ("drag", "angle_deg", "gap_mm"):
            text = getattr(reading, name)
            if text is not None and parse_number(text, name) < 0:
                raise QuantityError(name, "can't be less than nothing.", "Type it without a minus.")
        verdict = judge(d, group, wrench, reading, clicks_in_command=clicks, instead_of=instead_of)
    except QuantityError as wrong:
        raise Refused("bad_input", field=wrong.field, problem=wrong.message, remedy=wrong.remedy) from wrong
    return (
        reading.model_copy(
            update={
                "at_fastener": verdict.at_fastener,
                "window": verdict.window,
                "calc": CALC if wrench is not None else "",
                "counts": verdict.counts,
                "why_not": verdict.why_not,
                "why_params": verdict.why_params,
            }
        ),
        verdict,
    )


def bolt_after(bolt: Bolt, reading: Reading, verdict: Verdict, group: Group) -> Bolt | None:
    """The fastener after this reading; None when the reading leaves it as it was."""
    number = str(reading.pass_no)
    if verdict.counts:
        passes = {**bolt.passes, number: reading.id}
        exact = to_tolerance(group, reading.pass_no)
        return bolt.model_copy(
            update={
                "passes": passes,
                "final": is_final(group, passes),
                "outside": False if exact else bolt.outside,
            }
        )
    if verdict.outside:
        kept = {k: v for k, v in bolt.passes.items() if k != number}
        return bolt.model_copy(update={"passes": kept, "final": False, "outside": True})
    return None


def superseded(before: dict[int, Bolt], changed: list[Bolt]) -> list[str]:
    """Readings that filled a pass of a fastener and no longer do."""
    return [
        reading
        for bolt in changed
        for number, reading in before[bolt.n].passes.items()
        if bolt.passes.get(number) != reading
    ]


def _known_bolts(group: Group, bolts: Collection[int]) -> None:
    known = {b.n for b in group.bolts}
    problem = (
        "say which fasteners."
        if not bolts
        else next((f"there is no bolt {n} in {group.id}." for n in bolts if n not in known), None)
        or next((f"bolt {n} is named twice." for n, times in Counter(bolts).items() if times > 1), None)
    )
    if problem is not None:
        raise Refused(
            "bad_input", field="bolts", problem=problem, remedy=f"Bolts 1 to {max(known)}, each once."
        )


@decides(RunIn)
def run_in(d: Deciding, cmd: RunIn) -> None:
    """R23. Fasteners that were final by then have been slackened: they are undone first.

    A report that comes late, of something done before the last readings, changes nothing of them.
    """
    group = d.get(Group, cmd.group)
    _known_bolts(group, cmd.bolts)
    for person in cmd.helped:
        d.get(Member, person)
    slackened = [b.n for b in group.bolts if b.n in cmd.bolts and b.passes and not _turned_since(d, b)]
    if slackened:
        undo_group(d, group.id, "run_in_again", slackened)
        group = d.get(Group, cmd.group)
    task = task_of(d, group.id, cmd.task)
    mark = {"run_in": True} if cmd.how == "run_in" else {"run_in": True, "snug": True}
    changed = [b.model_copy(update=mark) for b in group.bolts if b.n in cmd.bolts and not b.passes]
    d.tell(
        "torque.run_in",
        group=group.id,
        task=task,
        how=cmd.how,
        bolts=as_json(changed),
        state=state_of(group, changed) if changed else group.state,
        touched=touch(d, group, cmd.helped),
    )
    if d.get(Group, cmd.group).state != "final":
        _open_run_in_ends(d, d.get(Group, cmd.group), "run_in" if cmd.how == "run_in" else "snugged", task)


def _turned_since(d: Deciding, bolt: Bolt) -> bool:
    return any(taken_ms(d.get(Reading, rid)) >= moment_ms(d) for rid in bolt.passes.values())


def _open_run_in_ends(d: Deciding, group: Group, kind: str, task: str | None) -> None:
    """The loose ends that the plan names for this step; where it names none, the group's own."""
    how = "run_in" if kind == "run_in" else "snug"
    planned = [pid for _, step in steps_of(d, group.id, how) for pid in step.opens]
    plans = {end.id: end for end in d.get(Build, "build").loose_ends}
    named = [plans[pid] for pid in planned if pid in plans]
    if not named:
        open_end(d, group.id, kind, task)
        return
    for end in named:
        if any(e.plan_id == end.id and e.closed is None for e in d.all(LooseEnd)):
            continue
        restores = planned_restorer(d, end.id)
        d.tell(
            "loose_end.opened",
            id=d.new_id(end.id),
            what=end.what,
            kind=end.kind,
            where=end.where,
            zone=None,
            gate=end.gate,
            plan_id=end.id,
            group=group.id,
            task=task,
            restores_task=restores[0] if restores else None,
            restores_step=restores[1] if restores else None,
            note=None,
            photo=None,
        )


@decides(NewFastener)
def new_fastener(d: Deciding, cmd: NewFastener) -> None:
    """R15. A new one was fitted: the fastener starts from nothing."""
    group = d.get(Group, cmd.group)
    _known_bolts(group, cmd.bolts)
    replaced = [b.n for b in group.bolts if b.n in cmd.bolts and b.passes and not _turned_since(d, b)]
    if replaced:
        undo_group(d, group.id, "new_fastener", replaced)
        group = d.get(Group, cmd.group)
    changed = [
        b.model_copy(update={"needs_new": False, "fitted_new": b.fitted_new + 1})
        for b in group.bolts
        if b.n in cmd.bolts and not b.passes
    ]
    d.tell("torque.new_fastener", group=group.id, bolts=as_json(changed), touched=touch(d, group, []))


@decides(StopHere)
def stop_here(d: Deciding, cmd: StopHere) -> None:
    """R10. Who stops a final pass is at it: on its task, or has read in it. Of anybody else, and with no final pass
    begun, the report is kept and nothing starts again.
    """
    group = d.get(Group, cmd.group)
    if d.who not in _at_it(d, group) or not interrupt_group(d, group.id, "stop_here"):
        d.tell("torque.stopped", group=group.id)


def _at_it(d: Deciding, group: Group) -> set[str]:
    last = str(group.passes)
    read = [d.find(Reading, bolt.passes[last]) for bolt in group.bolts if last in bolt.passes]
    on = [people_on(task) for task, _ in steps_of(d, group.id, "tighten") if task.state == "taken"]
    return {reading.by for reading in read if reading is not None} | {one for people in on for one in people}


@decides(AskCheck)
def ask_check(d: Deciding, cmd: AskCheck) -> None:
    d.tell("torque.check_asked", group=d.get(Group, cmd.group).id)


@decides(ReportLoosened)
def report_loosened(d: Deciding, cmd: ReportLoosened) -> None:
    """R26, the kept form: what is built on it is worked out and shown by undoing when connected."""
    group = d.get(Group, cmd.group)
    _known_bolts(group, cmd.bolts)
    undo_group(d, group.id, cmd.reason, cmd.bolts)
