"""What was crossed out on a bolt group and not done again since: a countersign, checks that waited for a PIN (R14)."""

from __future__ import annotations

from collections.abc import Sequence

from yokemate.rules.frame import State
from yokemate.rules.rows.torque import Check, Countersign, Group
from yokemate.rules.views.frame import ViewPart
from yokemate.rules.why_lapsed import lapsed_says


class LastLapse(ViewPart):
    """The countersign that was crossed out last, while none is in force: whose, by whom, and why."""

    signed_by: str
    signed_ms: int
    by: str
    at_ms: int
    says: str


class LapsedCheck(ViewPart):
    """Somebody's newest check, crossed out before their PIN: whose, when they had looked, and why."""

    by: str
    at_ms: int
    says: str


def last_lapse(group: Group, lapsed: Sequence[Countersign]) -> LastLapse | None:
    """`lapsed`: the group's countersigns that were crossed out, oldest first."""
    if not lapsed or group.countersign is not None:
        return None
    sign = lapsed[-1]
    return LastLapse(
        signed_by=sign.by,
        signed_ms=sign.at_ms,
        by=sign.lapsed_by or sign.by,
        at_ms=sign.lapsed_ms or sign.at_ms,
        says=lapsed_says(sign.lapsed_why),
    )


def lapsed_checks(state: State, group: Group) -> list[LapsedCheck]:
    """One for each person whose newest check did not last; none while a countersign is in force."""
    if group.countersign is not None:
        return []
    checks = sorted((c for c in state.all(Check) if c.group == group.id), key=lambda c: (c.at_ms, c.id))
    newest = {check.by: check for check in checks}
    return [
        LapsedCheck(by=check.by, at_ms=check.at_ms, says=lapsed_says(check.reason))
        for check in newest.values()
        if check.state == "lapsed"
    ]
