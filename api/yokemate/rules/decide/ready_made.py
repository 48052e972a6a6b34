"""Deviations and snags that the rules themselves write, in plain phrases instead of somebody's own words.

No names of people in them (R1); figures and ids of the plan only.
"""

from __future__ import annotations

from yokemate.rules.frame import Deciding
from yokemate.rules.rows import Deviation, Group, Reading, Snag, TorqueWrench
from yokemate.rules.rows.torque import Bolt
from yokemate.rules.tightening import never_again, taken_ms
from yokemate.rules.why_not import WHY_NOT
from yokemate.rules.wrenches import Unfit

UNFIT_SAYS = "A torque wrench that is in range, checked and not dropped since"
UNFIT_WHY = "The group is not critical: it counts, once this is accepted"


def propose_unfit_wrench(
    d: Deciding, group_id: str, task: str | None, wrench: TorqueWrench, unfit: Unfit
) -> None:
    """R11: readings of a group that is not critical count with a deviation, which waits to be accepted. Told
    once.
    """
    group = d.get(Group, group_id)
    we_did = f"{wrench.name}: {WHY_NOT[unfit.code].says.format(**unfit.params)}"
    if any(
        v.group == group_id
        and v.we_did == we_did
        and v.state != "withdrawn"
        and v.at_ms >= (group.undone_ms or 0)
        for v in d.all(Deviation)
    ):
        return
    d.tell(
        "deviation.proposed",
        id=d.new_id(f"{group_id}.unfit"),
        task=task or "",
        step=None,
        group=group_id,
        critical=False,
        manual_says=UNFIT_SAYS,
        we_did=we_did,
        why=UNFIT_WHY,
        photo=None,
        answer=None,
    )


def report_two_sets(d: Deciding, group: Group, new: Reading, task: str | None) -> None:
    """R15: two who turned a fastener that is turned once, without knowing of each other, is a snag; whether
    either set counts makes no difference to the fastener. Told once per group. `group` is as it was before.
    """
    if not never_again(group, new.pass_no):
        return
    bolt = next(b for b in group.bolts if b.n == new.bolt)
    if taken_ms(new) < bolt.undone_ms:
        return
    if any(_apart(old, new) for old in _turned_before(d, bolt, new)):
        what = "Two sets of readings were taken apart: fasteners may have been turned twice"
        snag_once(d, group.id, what, task)


def _turned_before(d: Deciding, bolt: Bolt, new: Reading) -> list[Reading]:
    """What was read in the same pass since the fastener was last undone, and still stands as typed."""
    return [
        old
        for old in d.all(Reading)
        if (old.group, old.bolt, old.pass_no) == (new.group, new.bolt, new.pass_no)
        and old.id != new.id
        and old.crossed_out_ms is None
        and taken_ms(old) >= bolt.undone_ms
    ]


def _apart(old: Reading, new: Reading) -> bool:
    """Taken by two people, or before the other was known. A reading typed again, because the first lacked
    something that its sentence asked for, is no second turn.
    """
    unknown = taken_ms(new) <= old.at_ms
    turned = old.counts or old.why_not in ("not_on_task", "superseded")
    return (unknown or turned) if old.by != new.by else (unknown and turned)


def report_damage(
    d: Deciding, group_id: str, task: str | None, faces: str | None, threads: str | None
) -> None:
    """What was found damaged on the first pass is a snag, so that the lead is told; the reading stays what it is."""
    name = d.get(Group, group_id).plan.name
    for what, found in (("faces", faces), ("threads", threads)):
        if found == "damaged":
            snag_once(d, group_id, f"{name}: {what} found damaged", task)


def snag_once(d: Deciding, group_id: str, what: str, task: str | None) -> None:
    """Open a snag on the group unless the same one is open."""
    if any(s.group == group_id and s.what == what and s.put_right is None for s in d.all(Snag)):
        return
    used = sum(1 for s in d.all(Snag) if s.id.startswith(d.new_id(f"{group_id}.snag")))
    d.tell(
        "snag.reported",
        id=d.new_id(f"{group_id}.snag{used + 1}"),
        what=what,
        note=None,
        task=task,
        group=group_id,
        photo=None,
    )
