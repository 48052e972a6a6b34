"""The second person: what they found on each fastener, and their signature under it (R13, R14)."""

from __future__ import annotations

from yokemate.rules.commands.torque import NoteCheck, SendBack, SignGroups
from yokemate.rules.decide.group_changes import drop_readings, lapse
from yokemate.rules.frame import Deciding, State, decides
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Check, Group
from yokemate.rules.rows.torque import BoltCheck
from yokemate.rules.second_person import need_second, touchers
from yokemate.rules.tightening import final_readings, taken_ms
from yokemate.units import QuantityError, parse_number


def allowed_methods(group: Group) -> list[str]:
    """How this group may be checked; where the plan says nothing, by all but a mark nobody painted."""
    if group.plan.check_methods:
        return list(group.plan.check_methods)
    methods = ["watched", "torque_wrench_again", "first_movement"]
    return [*methods, "paint_mark_seen"] if group.plan.paint else methods


@decides(NoteCheck)
def note_check(d: Deciding, cmd: NoteCheck) -> None:
    group = d.get(Group, cmd.group)
    need_second(d, d.who, touchers(d, group))
    found = _found(group, cmd)
    moved = [b.n for b in found if b.found == "moved"]
    if group.state != "final":
        raise Refused("nothing_to_check", group=group.plan.name)
    if cmd.readings_digest != group.readings_digest:
        raise Refused("readings_changed", group=group.plan.name, bolts=_newest(d, group))
    missing = [b.n for b in group.bolts if b.n not in {f.n for f in found}]
    if missing and not moved:
        raise Refused("bolts_missing", group=group.plan.name, bolts=missing)

    stands = group.countersign is not None
    d.tell(
        "check.noted",
        id=d.new_id(),
        group=group.id,
        round=group.round,
        readings_digest=cmd.readings_digest,
        bolts=[b.model_dump(mode="json") for b in found],
        state="sent_back" if moved else ("still_holds" if stands else "pin_due"),
        reason="moved" if moved else None,
    )
    if moved:
        lapse(d, group.id, "moved")
        drop_readings(d, group.id, moved, "moved")


def _found(group: Group, cmd: NoteCheck) -> list[BoltCheck]:
    known, allowed = {b.n for b in group.bolts}, allowed_methods(group)
    for looked in cmd.bolts:
        if looked.n not in known or sum(1 for other in cmd.bolts if other.n == looked.n) > 1:
            raise Refused(
                "bad_input", field="bolts", problem=f"bolt {looked.n} is not there, or named twice.",
                remedy=f"Bolts 1 to {max(known)}, each once.",
            )  # fmt: skip
        if looked.how not in allowed:
            raise Refused("method_not_allowed", bolt=looked.n, how=looked.how, allowed=allowed)
        if looked.value is not None:
            try:
                parse_number(looked.value, "value")
            except QuantityError as wrong:
                raise Refused(
                    "bad_input", field="value", problem=wrong.message, remedy=wrong.remedy
                ) from wrong
    return [BoltCheck(n=b.n, found=b.found, how=b.how, value=b.value, unit=b.unit) for b in cmd.bolts]


def _newest(state: State, group: Group) -> list[int]:
    """The fastener that was read last: what made the check outdated."""
    readings = final_readings(state, group)
    newest = max((r.at_ms for r in readings), default=0)
    return sorted({r.bolt for r in readings if r.at_ms == newest}) or [b.n for b in group.bolts]


@decides(SignGroups)
def sign_groups(d: Deciding, cmd: SignGroups) -> None:
    """One PIN for the walk round: all groups are judged first; one that fails signs none."""
    if not cmd.checks:
        raise Refused(
            "bad_input", field="checks", problem="nothing is listed.", remedy="Check a group first."
        )
    checks = [d.get(Check, id) for id in dict.fromkeys(cmd.checks)]
    twice = len({check.group for check in checks}) < len(checks)
    if twice:
        raise Refused(
            "bad_input",
            field="checks",
            problem="a group is listed twice.",
            remedy="List one check of each group.",
        )
    for check in checks:
        _may_sign(d, cmd, check)
    for check in checks:
        group = d.get(Group, check.group)
        d.tell(
            "countersign.signed",
            id=d.new_id(check.group),
            group=check.group,
            round=group.round,
            check=check.id,
            walk=d.ctx.id,
            readings_digest=group.readings_digest,
            open_network=d.ctx.facts.over_open_network,
        )
        others = sorted(
            c.id for c in d.all(Check) if c.group == check.group and c.state == "pin_due" and c.id != check.id
        )
        if others:
            d.tell("check.still_holds", checks=others)


def _may_sign(d: Deciding, cmd: SignGroups, check: Check) -> None:
    group = d.get(Group, check.group)
    name = group.plan.name
    need_second(d, d.who, touchers(d, group))
    if check.by != d.who:
        raise Refused("check_missing", group=name)
    if group.id in cmd.unsent_groups:
        raise Refused("unsent_readings", group=name)
    moved = [b.n for b in check.bolts if b.found == "moved"]
    if moved:
        raise Refused("check_moved", group=name, bolts=moved)
    if group.state != "final":
        raise Refused("nothing_to_check", group=name)
    same = check.readings_digest == group.readings_digest == cmd.readings_digests.get(group.id)
    if not same or check.state == "lapsed":
        raise Refused("readings_changed", group=name, bolts=_read_since(d, group, check))
    if check.state != "pin_due":
        raise Refused("check_missing", group=name)


def _read_since(d: Deciding, group: Group, check: Check) -> list[int]:
    since = sorted(
        {r.bolt for r in final_readings(d, group) if taken_ms(r) > check.at_ms or r.at_ms > check.at_ms}
    )
    return since or _newest(d, group)


@decides(SendBack)
def send_back(d: Deciding, cmd: SendBack) -> None:
    """The second person is not satisfied with these fasteners: they are tightened and read again."""
    group = d.get(Group, cmd.group)
    need_second(d, d.who, touchers(d, group))
    known = {b.n for b in group.bolts}
    if not cmd.bolts or not set(cmd.bolts) <= known:
        raise Refused(
            "bad_input", field="bolts", problem="say which bolt.", remedy=f"Bolts 1 to {max(known)}."
        )
    if not any(b.final for b in group.bolts if b.n in cmd.bolts):
        raise Refused("nothing_to_check", group=group.plan.name)
    d.tell(
        "check.sent_back",
        group=group.id,
        bolts=sorted(set(cmd.bolts)),
        reason=cmd.reason,
        note=cmd.note_text,
        checks=sorted(c.id for c in d.all(Check) if c.group == group.id and c.state == "pin_due"),
    )
    lapse(d, group.id, "sent_back")
    drop_readings(d, group.id, cmd.bolts, "sent_back")
