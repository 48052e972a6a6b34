"""Who is here today (R28). A sign-in is forgotten by itself after a long day, so nobody is 'in' since last week."""

from __future__ import annotations

from yokemate.rules.frame import State
from yokemate.rules.rows import Member

DAY_IN_MS = 16 * 3_600_000


def is_gone(member: Member | None, now_ms: int) -> bool:
    """Off the crew, or a guest whose day is over (R29)."""
    if member is None or member.left:
        return True
    return member.guest_until_ms is not None and now_ms >= member.guest_until_ms


def is_in(member: Member | None, now_ms: int) -> bool:
    return (
        member is not None
        and not member.left
        and member.in_since_ms is not None
        and now_ms - member.in_since_ms < DAY_IN_MS
    )


def came_last(member: Member) -> tuple[int, str]:
    """Sorts whoever signed in last to the front: no clock is needed to put today's people before yesterday's."""
    return -(member.in_since_ms or 0), member.id


def people_in(state: State, now_ms: int) -> list[Member]:
    """The members who are signed in, in the order of their ids."""
    return sorted((m for m in state.all(Member) if is_in(m, now_ms)), key=lambda m: m.id)


def is_alone(state: State, person: str, now_ms: int) -> bool:
    """No other adult of the crew is signed in: a child can't lift a car off anybody, and is not left to find them."""
    return not any(m.id != person and m.minor is None for m in people_in(state, now_ms))


def crew_changes_ms(state: State, now_ms: int) -> int | None:
    """When a sign-in, a guest's day or a deputy's next ends by itself: what a view says of who is here, or may, ends then."""
    ends = [
        end
        for m in state.all(Member)
        if not m.left
        for end in (m.guest_until_ms, m.deputy_until_ms, _day_ends_ms(m))
    ]
    return min((end for end in ends if end is not None and end > now_ms), default=None)


def _day_ends_ms(member: Member) -> int | None:
    return None if member.in_since_ms is None else member.in_since_ms + DAY_IN_MS
