"""Deviations, snags, notes, kept evidence, withdrawn bodies (R1, R4, R9)."""

from __future__ import annotations

from yokemate.rules.commands.notes import (
    AcceptDeviation,
    AddNote,
    KeepEvidence,
    ProposeDeviation,
    PutSnagRight,
    ReportSnag,
    WithdrawPayload,
)  # fmt: skip
from yokemate.rules.decide.task_steps import measured_so
from yokemate.rules.deviations import did_it, who_may_accept
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Deviation, Group, Snag, Task, Withdrawal


@decides(ProposeDeviation)
def propose(d: Deciding, cmd: ProposeDeviation) -> None:
    task = d.get(Task, cmd.task)
    d.tell(
        "deviation.proposed", id=d.new_id("deviation"), task=task.id, step=cmd.step, group=cmd.group,
        critical=_critical(d, task, cmd.step, cmd.group), manual_says=cmd.manual_says_text, we_did=cmd.we_did_text,
        why=cmd.why_text, photo=cmd.photo, answer=cmd.answer_text, leave_out=cmd.leave_out,
    )  # fmt: skip
    step = next((one for one in task.plan.steps if one.id == cmd.step), None)
    if step is not None and step.kind == "measure" and not cmd.leave_out:
        measured_so(d, task, step)


def _critical(d: Deciding, task: Task, step: str | None, group: str | None) -> bool:
    """About a critical group; or about the whole of a task that has one."""
    groups = (
        [group] if group else [s.group for s in task.plan.steps if s.group and (step is None or s.id == step)]
    )
    return any(row.plan.critical for row in (d.find(Group, id) for id in groups if id) if row is not None)


@decides(AcceptDeviation)
def accept(d: Deciding, cmd: AcceptDeviation) -> None:
    deviation = d.get(Deviation, cmd.deviation)
    if deviation.state != "waiting":
        raise Refused("already_closed")
    if d.who in did_it(d, deviation):
        raise Refused("did_the_work", ask_people=who_may_accept(d, deviation, d.now_ms))
    if any(pair.by == d.who for pair in deviation.accepted):
        raise Refused("somebody_else")
    answer = cmd.answer_text or deviation.answer
    if deviation.critical and answer is None:
        raise Refused("answer_missing")
    enough = not deviation.critical or len(deviation.accepted) >= 1
    d.tell(
        "deviation.accepted", deviation=deviation.id, answer=answer, state="accepted" if enough else "waiting"
    )


@decides(ReportSnag)
def report_snag(d: Deciding, cmd: ReportSnag) -> None:
    d.tell(
        "snag.reported",
        id=d.new_id("snag"),
        what=cmd.what_text,
        note=cmd.what_text,
        task=cmd.task,
        group=cmd.group,
        photo=cmd.photo,
    )


@decides(PutSnagRight)
def put_snag_right(d: Deciding, cmd: PutSnagRight) -> None:
    if d.get(Snag, cmd.snag).put_right is not None:
        raise Refused("already_closed")
    d.tell("snag.put_right", snag=cmd.snag)


@decides(AddNote)
def add_note(d: Deciding, cmd: AddNote) -> None:
    if cmd.text is None and cmd.photo is None:
        raise Refused(
            "bad_input", field="text", problem="there is nothing in it.", remedy="Type it, or add a photo."
        )
    d.tell(
        "note.added",
        id=d.new_id("note"),
        about_kind=cmd.about_kind,
        about=cmd.about,
        text=cmd.text,
        photo=cmd.photo,
    )


@decides(WithdrawPayload)
def withdraw(d: Deciding, cmd: WithdrawPayload) -> None:
    if d.find(Withdrawal, cmd.payload):
        raise Refused("already_closed")
    d.tell("payload.withdrawn", payload=cmd.payload, reason=cmd.reason)


@decides(KeepEvidence)
def keep_evidence(d: Deciding, cmd: KeepEvidence) -> None:
    d.tell("evidence.kept", id=cmd.joins or d.new_id("evidence"), task=cmd.task, code=cmd.code, asks=cmd.asks)
