"""Which rows, entries and payloads a member may see (R31). Nothing here holds anything private (R21)."""

from __future__ import annotations

from yokemate.rules.frame import State
from yokemate.rules.gatekeeper import is_deputy
from yokemate.rules.rows import Evidence, Invite, Member
from yokemate.store.named import named_in_asks

_TOLD_BY = {"evidence.kept": Evidence.KIND, "crew.invited": Invite.KIND}


def sees(member: Member, kind: str, now_ms: int, by: str | None = None) -> bool:
    """A row of a kind. `by`: whose evidence it is, where it is evidence."""
    if kind == Invite.KIND:
        return member.role == "lead" or is_deputy(member, now_ms)
    if kind == Evidence.KIND:
        return member.role == "lead" or by == member.id
    return True


def reads(member: Member, entry_kind: str, now_ms: int, by: str) -> bool:
    """What an entry of the record says, as far as the row that it tells of may be seen."""
    return sees(member, _TOLD_BY.get(entry_kind, ""), now_ms, by)


def closed_papers(member: Member, state: State, now_ms: int) -> set[str]:
    """Payloads that stand only in somebody else's evidence: what they typed and were refused."""
    return {
        id
        for one in state.all(Evidence)
        if not sees(member, Evidence.KIND, now_ms, one.by)
        for id in named_in_asks(one.asks)
    }
