"""Which rows a member's phone receives (R31). No row holds anything private (R21)."""

from __future__ import annotations

from yokemate.rules.gatekeeper import is_deputy
from yokemate.rules.rows import Evidence, Invite, Member
from yokemate.store.row_tables import Line


def sees(member: Member, line: Line, now_ms: int, by: str | None = None) -> bool:
    """`by`: whose evidence it is, where it is evidence."""
    if line.kind == Invite.KIND:
        return member.role == "lead" or is_deputy(member, now_ms)
    if line.kind == Evidence.KIND:
        return member.role == "lead" or by == member.id
    return True
