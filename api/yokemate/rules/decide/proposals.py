"""Two people: one *proposes*, another *seconds*: gates, another way, an absent owner's tag.

Each kind says with `@seconds(what)` what happens when a second person agrees, and with `@still(what)` whether
what the proposal named is still as it was; one that is not lapses by itself. So does one whose first person could not
propose it any more: two who have left the crew, or a deputy of yesterday, are not two people.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from yokemate.rules.commands.gates import ProposeAnotherWay, ProposeOpen, Second, WithdrawProposal
from yokemate.rules.commands.hazards import ProposeLiftTag
from yokemate.rules.frame import CommandSpec, Deciding, State, decides, settles
from yokemate.rules.gatekeeper import role_refuses
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member, Proposal

What = Literal["open_gate", "put_right", "lift_tag"]
FIRST: dict[str, CommandSpec] = {
    "open_gate": ProposeOpen.SPEC,
    "put_right": ProposeAnotherWay.SPEC,
    "lift_tag": ProposeLiftTag.SPEC,
}
SECONDS: dict[str, Callable[[Deciding, Proposal], None]] = {}
STILL: dict[str, Callable[[State, Proposal, int], bool]] = {}


def seconds(
    what: What,
) -> Callable[[Callable[[Deciding, Proposal], None]], Callable[[Deciding, Proposal], None]]:
    """Register what is told once a proposal of this kind is seconded. May refuse."""

    def register(fn: Callable[[Deciding, Proposal], None]) -> Callable[[Deciding, Proposal], None]:
        SECONDS[what] = fn
        return fn

    return register


def still(
    what: What,
) -> Callable[[Callable[[State, Proposal, int], bool]], Callable[[State, Proposal, int], bool]]:
    """Register whether what a proposal of this kind names is still as it was when it was made."""

    def register(fn: Callable[[State, Proposal, int], bool]) -> Callable[[State, Proposal, int], bool]:
        STILL[what] = fn
        return fn

    return register


def propose(
    d: Deciding,
    what: What,
    about: str,
    *,
    reason: str | None = None,
    confirmed: list[str] | None = None,
    seen: dict[str, Any] | None = None,
    until_ms: int | None = None,
) -> str:
    """Tell a new proposal and return its id; an older one about the same thing lapses."""
    for old in waiting(d, what, about):
        d.tell("two.lapsed", proposal=old.id, why="proposed_again")
    proposal = d.new_id("proposal")
    d.tell(
        "two.proposed",
        proposal=proposal,
        what=what,
        about=about,
        reason=reason,
        confirmed=confirmed or [],
        seen=seen or {},
        until_ms=until_ms,
    )
    return proposal


def waiting(state: State, what: str, about: str) -> list[Proposal]:
    return [p for p in state.all(Proposal) if p.state == "waiting" and p.what == what and p.about == about]


def ends_ms(state: State, proposal: Proposal) -> int | None:
    """When it lapses by itself: its own time is up, or its first person is guest, or deputy, no longer."""
    by = state.find(Member, proposal.by)
    ends = [proposal.until_ms]
    if by is not None:
        ends.append(by.guest_until_ms)
        ends.append(by.deputy_until_ms if by.role not in FIRST[proposal.what].who else None)
    return min((end for end in ends if end is not None), default=None)


def stands(state: State, proposal: Proposal, now_ms: int) -> bool:
    """It waits for a second person, and its first one still counts: a grown member who could propose it now."""
    end = ends_ms(state, proposal)
    if proposal.state != "waiting" or (end is not None and now_ms >= end):
        return False
    by = state.find(Member, proposal.by)
    refused = role_refuses(state, FIRST[proposal.what], proposal.by, now_ms)
    return refused is None and by is not None and by.minor is None


def need_adult(member: Member) -> None:
    """Two people means two grown ones (R8)."""
    if member.minor is not None:
        raise Refused("minor_cannot")


@decides(Second)
def second(d: Deciding, cmd: Second) -> None:
    proposal = d.get(Proposal, cmd.proposal)
    if not stands(d, proposal, d.now_ms):
        raise Refused("proposal_lapsed")
    if proposal.by == d.who:
        raise Refused("somebody_else")
    need_adult(d.get(Member, d.who))
    if not STILL[proposal.what](d, proposal, d.now_ms):
        raise Refused("proposal_lapsed")
    then = SECONDS[proposal.what]
    d.tell("two.seconded", proposal=proposal.id)
    then(d, d.get(Proposal, proposal.id))


@decides(WithdrawProposal)
def withdraw(d: Deciding, cmd: WithdrawProposal) -> None:
    proposal = d.get(Proposal, cmd.proposal)
    if proposal.state != "waiting":
        raise Refused("proposal_lapsed")
    if proposal.by != d.who:
        raise Refused("only_the_proposer", first_person=proposal.by)
    d.tell("two.withdrawn", proposal=proposal.id)


@settles
def lapse_what_changed(d: Deciding) -> None:
    for proposal in list(d.all(Proposal)):
        if proposal.state != "waiting":
            continue
        if not (stands(d, proposal, d.now_ms) and STILL[proposal.what](d, proposal, d.now_ms)):
            d.tell("two.lapsed", proposal=proposal.id, why="changed")
