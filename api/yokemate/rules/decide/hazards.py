"""Being under the car and isolator tags (R27)."""

from __future__ import annotations

from dataclasses import asdict

from yokemate.rules.commands.hazards import HangTag, ImOut, ImUnder, LiftTag, ProposeLiftTag
from yokemate.rules.decide.proposals import need_adult, propose, seconds, still
from yokemate.rules.frame import Deciding, State, decides
from yokemate.rules.hazard_pairs import ISOLATES, clashes_with
from yokemate.rules.presence import is_in
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member, Proposal, Tag, Under


@decides(ImUnder)
def im_under(d: Deciding, cmd: ImUnder) -> None:
    beside = [
        asdict(clash)
        for clash in clashes_with(d, ["under_car"], d.who, cmd.task)
        if clash.person != d.who or clash.theirs == "load_up"
    ]
    d.tell("hazard.went_under", task=cmd.task, beside=beside)


@decides(ImOut)
def im_out(d: Deciding, cmd: ImOut) -> None:
    person = cmd.person or d.who
    if d.find(Under, person) is not None:
        d.tell("hazard.came_out", person=person)


@decides(HangTag)
def hang_tag(d: Deciding, cmd: HangTag) -> None:
    if cmd.what == "other" and cmd.what_text is None:
        raise Refused(
            "bad_input", field="what_text", problem="is missing.", remedy="Say what is to stay off."
        )
    hazards = sorted(ISOLATES.get(cmd.what, frozenset()))
    beside = [asdict(clash) for clash in clashes_with(d, hazards, d.who)]
    d.tell("hazard.tag_hung", tag=d.new_id("tag"), what=cmd.what, note=cmd.what_text, beside=beside)


@decides(LiftTag)
def lift_tag(d: Deciding, cmd: LiftTag) -> None:
    tag = _hanging(d, cmd.tag)
    if tag.owner != d.who:
        raise Refused("tag_not_yours", owner_person=tag.owner)
    d.tell("hazard.tag_lifted", tag=tag.id, people=[d.who])


@decides(ProposeLiftTag)
def propose_lift_tag(d: Deciding, cmd: ProposeLiftTag) -> None:
    need_adult(d.get(Member, d.who))
    tag = _hanging(d, cmd.tag)
    if _owner_is_in(d, tag, d.now_ms):
        raise Refused("owner_is_in", owner_person=tag.owner)
    propose(d, "lift_tag", tag.id, reason=cmd.reason_text, seen={"since_ms": tag.since_ms})


@still("lift_tag")
def tag_still_hangs(state: State, proposal: Proposal, now_ms: int) -> bool:
    """Two people stand in for somebody who is away: an owner who comes back lifts their own tag (R27)."""
    tag = state.find(Tag, proposal.about)
    return tag is not None and tag.lifted_ms is None and not _owner_is_in(state, tag, now_ms)


@seconds("lift_tag")
def lift_absent_tag(d: Deciding, proposal: Proposal) -> None:
    d.tell("hazard.tag_lifted", tag=proposal.about, people=[proposal.by, d.who])


def _owner_is_in(state: State, tag: Tag, now_ms: int) -> bool:
    return is_in(state.find(Member, tag.owner), now_ms)


def _hanging(d: Deciding, tag_id: str) -> Tag:
    tag = d.get(Tag, tag_id)
    if tag.lifted_ms is not None:
        raise Refused("already_closed")
    return tag
