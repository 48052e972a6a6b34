"""Membership, role, PIN, `seen`: judged once for every command, from the registry (R8, R29, R30)."""

from __future__ import annotations

from yokemate.rules.frame import CommandSpec, Deciding, State
from yokemate.rules.lift_crew import in_a_lift
from yokemate.rules.presence import came_last, is_gone
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Member

# These make or mend membership itself, so they are judged by their own decide functions.
_BEFORE_MEMBERSHIP = frozenset({"build.make", "crew.join", "crew.recover_lead"})


def first_lead(draft: State) -> str | None:
    """Whom to ask: the lead who signed in last, for nobody is likelier to be here; else the first."""
    leads = [m for m in draft.all(Member) if m.role == "lead" and not m.left]
    first = min(leads, key=came_last, default=None)
    return first.id if first is not None else None


def is_deputy(member: Member, now_ms: int) -> bool:
    """Named for the day, and still somebody who may be: who was made a viewer since, or said to be under 18, is none."""
    named = member.deputy_until_ms is not None and now_ms < member.deputy_until_ms
    return named and member.role != "viewer" and member.minor is None


def member_refused(state: State, member: Member, now_ms: int) -> Refused | None:
    """Who is off the crew, and a guest whose day is over."""
    if member.left:
        return Refused("not_a_member")
    return Refused("guest_over", ask_person=first_lead(state)) if is_gone(member, now_ms) else None


def need_member(state: State, member: Member, now_ms: int) -> None:
    refused = member_refused(state, member, now_ms)
    if refused is not None:
        raise refused


def may(draft: Deciding, spec: CommandSpec) -> None:
    """Refuse when this person may not send this kind of command at all."""
    if spec.kind in _BEFORE_MEMBERSHIP:
        return
    ctx = draft.ctx
    if ctx.typed_by is not None:
        _role_allows(draft, spec, ctx.typed_by)  # typing for a lead makes nobody a lead
        draft.get(Member, ctx.who)
    _role_allows(draft, spec, ctx.who)
    if spec.needs_seen and ctx.seen is None:
        raise Refused("seen_needed")
    for_another = ctx.typed_by is not None and spec.act == "ask" and (spec.sent == "now" or spec.needs_seen)
    if spec.pin or for_another:
        if ctx.facts.pin_ok is None:
            raise Refused("pin_needed")
        if not ctx.facts.pin_ok:
            raise Refused("pin_wrong", left=0)
        if ctx.facts.pin_short and draft.get(Member, ctx.who).role == "lead":
            raise Refused("pin_outgrown")


def _role_allows(draft: Deciding, spec: CommandSpec, person: str) -> None:
    refused = role_refuses(draft, spec, person, draft.now_ms)
    if refused is not None:
        raise refused


def role_refuses(state: State, spec: CommandSpec, person: str, now_ms: int) -> Refused | None:
    """Why this person may not send this kind of command at that moment, or None."""
    member = state.find(Member, person)
    if state.find(Build, "build") is None or member is None:
        return Refused("not_a_member")
    if spec.sent == "stop" and in_a_lift(state, person, now_ms):
        return None  # whoever stands at the load stops it, whatever became of their membership since (R19)
    off = member_refused(state, member, now_ms)
    if off is not None:
        return off
    if member.role not in spec.who and not (spec.deputy and is_deputy(member, now_ms)):
        code = "viewer" if member.role == "viewer" else "role"
        return Refused(code, role=member.role, ask_person=first_lead(state))
    return None
