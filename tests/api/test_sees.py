"""Role × kind of row, every cell: what a phone may receive (R31), and what the record may say of it."""

from __future__ import annotations

import pytest

from yokemate.routes.sees import reads, sees
from yokemate.rules.frame import ROLES
from yokemate.rules.rows import ROWS, Member

NOW = 1_780_000_000_000
# Written down here, so that a new kind of row goes out to nobody before somebody has thought about who may see it.
EVERYBODYS = {
    "build", "check", "countersign", "days_plan", "deviation", "gate", "group", "lift", "loose_end", "member", "note",
    "part", "proposal", "reading", "snag", "tag", "task", "tool", "torque_wrench", "under", "visit", "withdrawal",
}  # fmt: skip
WHO_INVITES = {"invite"}  # R30: a lead, or the deputy of the day: what an invite gives is theirs to know
WHOSE_AND_THE_LEADS = {"evidence"}  # R4: what somebody typed with an ask that was refused


def test_every_kind_of_row_has_its_line() -> None:
    assert set(ROWS) == EVERYBODYS | WHO_INVITES | WHOSE_AND_THE_LEADS


@pytest.mark.parametrize("deputy_for_ms", [None, -1, 0, 1])
@pytest.mark.parametrize("role", ROLES)
def test_r31_each_role_receives_what_it_may_see(role: str, deputy_for_ms: int | None) -> None:
    """R30: a deputy is one until their day is over, to the millisecond; a viewer is none."""
    until = None if deputy_for_ms is None else NOW + deputy_for_ms
    me = Member.model_validate({"id": "me", "role": role, "deputy_until_ms": until})
    invites = role == "lead" or (deputy_for_ms == 1 and role != "viewer")

    assert {kind for kind in ROWS if sees(me, kind, NOW, "another")} == (
        EVERYBODYS | (WHO_INVITES if invites else set()) | (WHOSE_AND_THE_LEADS if role == "lead" else set())
    )
    assert sees(me, "evidence", NOW, "me")
    assert reads(me, "crew.invited", NOW, "another") is invites
    assert reads(me, "evidence.kept", NOW, "another") is (role == "lead")
    assert reads(me, "evidence.kept", NOW, "me")
    assert reads(me, "task.taken", NOW, "another")
