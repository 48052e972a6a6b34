"""Deviations and snags that the rules themselves write, in plain phrases instead of somebody's own words.

No names of people in them (R1); figures and ids of the plan only.
"""

from __future__ import annotations

from yokemate.rules.frame import Deciding
from yokemate.rules.rows import Deviation, Group, Reading, Snag, TorqueWrench
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


def report_two_sets(d: Deciding, reading: Reading, standing_id: str, task: str | None) -> None:
    """R15: two who turned the same fastener without knowing of each other is a snag; told once per group and
    round.
    """
    standing = d.get(Reading, standing_id)
    apart = reading.by != standing.by or min(reading.device_ms, reading.at_ms) <= standing.at_ms
    if apart:
        snag_once(
            d,
            reading.group,
            "Two sets of readings were taken apart: fasteners may have been turned twice",
            task,
        )


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
