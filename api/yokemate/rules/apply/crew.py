"""How entries about the crew change rows."""

from __future__ import annotations

from typing import Literal

from yokemate.planfile.model import MinorsMay
from yokemate.rules.frame import At, Draft, Role, applies
from yokemate.rules.rows import Build, Invite, Member, Visit
from yokemate.rules.rows.crew import EmergencyCard


@applies("build.made")
def build_made(
    draft: Draft, at: At, *, name: str, units: Literal["metric", "us", "both"], time_zone: str, demo: bool
) -> None:
    draft.put(Build(id="build", name=name, units=units, time_zone=time_zone, demo=demo, made_by=at.by))
    draft.put(Member(id=at.by, role="lead", may_countersign=True))


@applies("build.changed")
def build_changed(
    draft: Draft,
    at: At,
    *,
    name: str,
    units: Literal["metric", "us", "both"],
    time_zone: str,
    learner_percent: int = 100,
    comes_percent: int = 100,
) -> None:
    draft.change(
        Build, "build", name=name, units=units, time_zone=time_zone, learner_percent=learner_percent,
        comes_percent=comes_percent,
    )  # fmt: skip


@applies("emergency.written")
def emergency_written(
    draft: Draft, at: At, *, address: str | None, first_aid: str | None, extinguishers: str | None
) -> None:
    card = EmergencyCard(
        address=address, first_aid=first_aid, extinguishers=extinguishers, by=at.by, at_ms=at.at_ms
    )
    draft.change(Build, "build", emergency=card)


@applies("crew.invited")
def invited(
    draft: Draft, at: At, *, invite: str, role: Role, skills: list[str], minor: MinorsMay | None,
    may_countersign: bool, guest_for_the_day: bool, until_ms: int,
) -> None:  # fmt: skip
    draft.put(
        Invite(
            id=invite,
            role=role,
            skills=skills,
            minor=minor,
            may_countersign=may_countersign,
            guest_for_the_day=guest_for_the_day,
            made_by=at.by,
            until_ms=until_ms,
        )
    )


@applies("crew.joined")
def joined(draft: Draft, at: At, *, invite: str, guest_until_ms: int | None) -> None:
    given = draft.change(Invite, invite, used_by=at.by)
    draft.put(
        Member(
            id=at.by,
            role=given.role,
            skills=given.skills,
            minor=given.minor,
            may_countersign=given.may_countersign,
            guest_until_ms=guest_until_ms,
        )
    )


@applies("crew.member_changed")
def member_changed(
    draft: Draft,
    at: At,
    *,
    person: str,
    role: Role,
    skills: list[str],
    minor: MinorsMay | None,
    may_countersign: bool,
) -> None:
    draft.change(Member, person, role=role, skills=skills, minor=minor, may_countersign=may_countersign)


@applies("crew.left")
def left(draft: Draft, at: At, *, person: str) -> None:
    draft.change(Member, person, left=True, in_since_ms=None, deputy_until_ms=None)


@applies("crew.deputy_named")
def deputy_named(draft: Draft, at: At, *, person: str, until_ms: int) -> None:
    draft.change(Member, person, deputy_until_ms=until_ms)


@applies("crew.signed_in")
def signed_in(draft: Draft, at: At) -> None:
    draft.change(Member, at.by, in_since_ms=at.at_ms)


@applies("crew.signed_out")
def signed_out(draft: Draft, at: At) -> None:
    draft.change(Member, at.by, in_since_ms=None)


@applies("crew.visitor_came")
def visitor_came(
    draft: Draft,
    at: At,
    *,
    visit: str,
    what: Literal["visitor", "child"],
    payload: str | None,
    with_person: str | None,
) -> None:
    draft.put(Visit(id=visit, what=what, payload=payload, with_person=with_person, in_since_ms=at.at_ms))


@applies("crew.visitor_went")
def visitor_went(draft: Draft, at: At, *, visit: str) -> None:
    draft.change(Visit, visit, out_ms=draft.get(Visit, visit).out_ms or at.at_ms)


@applies("crew.device_shut_out")
def device_shut_out(draft: Draft, at: At, *, device: str, person: str) -> None:
    """Devices are kept outside the ledger; the entry itself is the record."""


@applies("crew.lead_recovered")
def lead_recovered(draft: Draft, at: At, *, person: str) -> None:
    draft.change(Member, person, role="lead", left=False, guest_until_ms=None)


@applies("crew.pin_renewed")
def pin_renewed(draft: Draft, at: At, *, person: str) -> None:
    """PINs are kept outside the ledger; the entry itself is the record."""
