"""The tool store: torque wrenches with their checks and drops (R11), tools out and in."""

from __future__ import annotations

from yokemate.planfile.check_tools import wrench_faults
from yokemate.rules.commands.stores import (
    BorrowTool,
    CheckTorqueWrench,
    EnterTorqueWrench,
    HouseCheckByWeight,
    RetireTorqueWrench,
    ReturnTool,
    WrenchDropped,
)
from yokemate.rules.decide.group_changes import drop_readings, lapse, moment_ms
from yokemate.rules.decide.ready_made import propose_unfit_wrench, snag_once
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.house_check import weigh
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Group, Reading, Tool, TorqueWrench
from yokemate.rules.rows.stores import WrenchCheck
from yokemate.rules.tightening import taken_ms, torque_pass
from yokemate.rules.wrenches import (
    DAY_MS,
    Unfit,
    certificate_of_plan,
    checked_until_ms,
    day_of,
    last_good_check_ms,
)


@decides(EnterTorqueWrench)
def enter(d: Deciding, cmd: EnterTorqueWrench) -> None:
    if d.find(TorqueWrench, cmd.wrench) is not None:
        raise Refused("exists", what="torque wrench", id=cmd.wrench)
    plan = cmd.plan
    for fault in wrench_faults(plan):
        raise Refused("bad_input", field=f"plan.{fault.field}", problem=fault.says, remedy=fault.remedy)
    certificate = certificate_of_plan(plan, d.who)
    d.tell(
        "wrench.entered",
        wrench=cmd.wrench,
        name=cmd.name,
        plan=plan.model_dump(mode="json"),
        checks=[certificate.model_dump(mode="json")] if certificate else [],
    )


@decides(CheckTorqueWrench)
def check(d: Deciding, cmd: CheckTorqueWrench) -> None:
    """R11: good until `until_ms`, never longer than the torque wrench's own interval. A failed check lists
    its work.
    """
    wrench = d.get(TorqueWrench, cmd.wrench)
    if cmd.checked_ms > d.now_ms:
        raise Refused(
            "bad_input",
            field="checked_ms",
            problem="that is still to come.",
            remedy="Say when it was checked.",
        )
    if cmd.until_ms <= cmd.checked_ms:
        raise Refused(
            "bad_input",
            field="until_ms",
            problem="it ends before it begins.",
            remedy="Say until when it is good.",
        )
    months = wrench.plan.check_months
    if cmd.good and cmd.until_ms > checked_until_ms(day_of(cmd.checked_ms), months) + _A_ZONE_MS:
        raise Refused(
            "bad_input", field="until_ms", problem=f"it is checked every {months} months.",
            remedy="Take a day within that.",
        )  # fmt: skip
    if cmd.good and cmd.kind == "house_check" and cmd.until_ms > cmd.checked_ms + HOUSE_CHECK_MS:
        raise Refused(
            "bad_input", field="until_ms", problem="a house check holds for a month at most.",
            remedy="Take a day within that, or record a certificate.",
        )  # fmt: skip
    made = WrenchCheck(
        kind=cmd.kind,
        at_ms=cmd.checked_ms,
        until_ms=cmd.until_ms,
        good=cmd.good,
        by=d.who,
        note=cmd.note_text,
    )
    _keep_check(d, wrench, made)


def _keep_check(d: Deciding, wrench: TorqueWrench, made: WrenchCheck) -> None:
    suspect = [] if made.good else _made_with(d, wrench.id, last_good_check_ms(wrench, made.at_ms))
    d.tell(
        "wrench.checked",
        wrench=wrench.id,
        kind=made.kind,
        checked_ms=made.at_ms,
        until_ms=made.until_ms,
        good=made.good,
        note=made.note,
        groups=suspect,
        weighed=None if made.weighed is None else made.weighed.model_dump(mode="json"),
    )
    for group in suspect:
        snag_once(
            d,
            group,
            f"{wrench.name} failed its check; it had tightened this group since the one before",
            None,
        )


@decides(HouseCheckByWeight)
def house_check(d: Deciding, cmd: HouseCheckByWeight) -> None:
    """R11: one point, named a house check; it holds a month, and never longer than the torque wrench's own interval
    (common practice).
    """
    wrench = d.get(TorqueWrench, cmd.wrench)
    at_ms = moment_ms(d)
    weighed, within = weigh(wrench.plan, cmd)
    until_ms = min(at_ms + HOUSE_CHECK_MS, checked_until_ms(day_of(at_ms), wrench.plan.check_months))
    made = WrenchCheck(
        kind="house_check", at_ms=at_ms, until_ms=until_ms, good=within, by=d.who, weighed=weighed
    )
    _keep_check(d, wrench, made)


@decides(RetireTorqueWrench)
def retire(d: Deciding, cmd: RetireTorqueWrench) -> None:
    if (d.get(TorqueWrench, cmd.wrench).retired_ms is None) == cmd.back:
        raise Refused("already_closed")
    d.tell("wrench.retired", wrench=cmd.wrench, back=cmd.back)


HOUSE_CHECK_MS = 30 * DAY_MS
_A_ZONE_MS = 14 * 3_600_000  # the end of a day, in whatever time zone it was meant


@decides(WrenchDropped)
def dropped(d: Deciding, cmd: WrenchDropped) -> None:
    """R11: unfit from the drop on. Every group it made since its last good check is listed; found out later,
    each gets a snag.

    Readings taken with it after the drop were taken with an unfit torque wrench: on critical groups they stop
    to
    count, on others they get the deviation they would have got. Where nobody knows when it fell, the list and
    the
    snags are what there is: the readings stand until its next check says more.
    """
    wrench = d.get(TorqueWrench, cmd.wrench)
    known = cmd.dropped_ms is not None or not cmd.found_out_later
    at_ms = min(cmd.dropped_ms, d.now_ms) if cmd.dropped_ms is not None else moment_ms(d)
    groups = _made_with(d, wrench.id, last_good_check_ms(wrench, at_ms))
    d.tell(
        "wrench.dropped",
        wrench=wrench.id,
        dropped_ms=at_ms,
        found_out_later=cmd.found_out_later,
        groups=groups,
    )
    for group_id in groups:
        group, whole = d.get(Group, group_id), str(torque_pass(d.get(Group, group_id)))
        since = [
            b.n
            for b in group.bolts
            if whole in b.passes and _made_after(d, b.passes[whole], wrench.id, at_ms)
        ]
        if since and known and group.plan.critical:
            lapse(d, group_id, "wrench_dropped")
            drop_readings(d, group_id, since, "wrench_dropped")
        elif since and known:
            task = d.get(Reading, next(b.passes[whole] for b in group.bolts if b.n in since)).task
            propose_unfit_wrench(d, group_id, task, wrench, Unfit("wrench_dropped", {"since_ms": at_ms}))
        if cmd.found_out_later or since:
            snag_once(
                d,
                group_id,
                f"{wrench.name} was dropped; it had tightened this group since its last check",
                None,
            )


def _made_with(d: Deciding, wrench: str, since_ms: int) -> list[str]:
    """Groups with the whole torque in force by this torque wrench since that moment."""
    made = {
        group.id
        for group in d.all(Group)
        for bolt in group.bolts
        if (rid := bolt.passes.get(str(torque_pass(group)))) is not None
        and _made_after(d, rid, wrench, since_ms)
    }
    return sorted(made)


def _made_after(d: Deciding, reading_id: str, wrench: str, ms: int) -> bool:
    reading = d.get(Reading, reading_id)
    return reading.wrench == wrench and taken_ms(reading) >= ms


@decides(BorrowTool)
def borrow(d: Deciding, cmd: BorrowTool) -> None:
    d.tell("tool.borrowed", tool=d.get(Tool, cmd.tool).id, person=d.who, count=_count(cmd.count))


@decides(ReturnTool)
def give_back(d: Deciding, cmd: ReturnTool) -> None:
    """More brought back than was noted as taken: the store is right, the note was short."""
    out = d.get(Tool, cmd.tool).out.get(d.who, 0)
    d.tell(
        "tool.returned",
        tool=cmd.tool,
        person=d.who,
        count=_count(cmd.count),
        left_out=max(0, out - cmd.count),
    )


def _count(count: int) -> int:
    if not 1 <= count <= 99:
        raise Refused(
            "bad_input", field="count", problem=f"{count} is no number of tools.", remedy="Type 1 to 99."
        )
    return count
