"""Who may be the second person (R8, R13). The rule lives in this file alone; no role overrides it."""

from __future__ import annotations

from collections.abc import Collection

from yokemate.rules.frame import State
from yokemate.rules.presence import is_gone
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Group, Member, Task


def touchers(state: State, group: Group) -> set[str]:
    """Everybody who read, helped or ran in on the group since it was last undone, and all who had joined its
    task.
    """
    people = set(group.touched)
    for task in state.all(Task):
        if any(step.kind == "tighten" and step.group == group.id for step in task.plan.steps):
            people.update(task.worked, (mate.person for mate in task.mates))
            if task.holder is not None:
                people.add(task.holder)
    return people


def why_not_second(member: Member | None, touched: Collection[str]) -> str | None:
    """The refusal code that keeps this person from signing as the second one, or None."""
    if member is None or member.left or member.role == "viewer":
        return "may_not_countersign"
    if member.minor is not None:
        return "minor_cannot"
    if not member.may_countersign:
        return "may_not_countersign"
    if member.id in touched:
        return "fresh_eyes"
    return None


def need_second(state: State, who: str, touched: Collection[str]) -> None:
    """Refuse unless `who` may sign as the second person under work that `touched` did."""
    code = why_not_second(state.find(Member, who), touched)
    if code is not None:
        raise Refused(code)


def who_may_sign(state: State, touched: Collection[str], now_ms: int) -> list[str]:
    """Ids of everybody who may be the second person under work that `touched` did, in the order of their ids."""
    return sorted(
        member.id
        for member in state.all(Member)
        if why_not_second(member, touched) is None and not is_gone(member, now_ms)
    )
