"""Who belongs to the build and who is in today. PINs, limits, hours and devices are outside the ledger (`people`)."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StrictBool, StringConstraints

from yokemate.planfile.model import MinorsMay
from yokemate.rules.commands.fields import Id, Label, Moment, Text
from yokemate.rules.frame import CREW, EVERYBODY, LEAD, Command, Role, command

Zone = Annotated[str, StringConstraints(max_length=60)]


@command("build.make", "/make", who=EVERYBODY, refusals=("build_exists",))
class MakeBuild(Command):
    """Make the build; who makes it is its first lead."""

    name: Label
    units: Literal["metric", "us", "both"] = "metric"
    time_zone: Zone = "UTC"
    demo: StrictBool = False


@command("build.change", "/change", sent="now", who=LEAD, needs_seen=True, refusals=("bad_input",))
class ChangeBuild(Command):
    """Change the build's name, the units shown, its time zone, or what planning counts on. Hours and days are read by the
    clock of the zone.

    `learner_percent`: how long work takes with somebody who learns it, of the plan's figure. `comes_percent`: of a hundred
    hours that were given, so many are kept; the ranges of gates and finish count on it.
    """

    name: Label | None = None
    units: Literal["metric", "us", "both"] | None = None
    time_zone: Zone | None = None
    learner_percent: Annotated[int, Field(ge=100, le=300)] | None = None
    comes_percent: Annotated[int, Field(ge=30, le=100)] | None = None


@command("emergency.write", "/emergency-card", who=LEAD)
class WriteEmergencyCard(Command):
    """Write the emergency card that every phone of the crew keeps."""

    address_text: Text | None = None
    first_aid_text: Text | None = None
    extinguishers_text: Text | None = None


@command(
    "crew.invite",
    "/invites",
    sent="now",
    who=LEAD,
    deputy=True,
    refusals=("deputy_guests_only", "deputy_gives_no_rights", "invite_used", "minor_cannot"),
)
class Invite(Command):
    """Invite somebody in a role; the secret itself is outside the ledger. A deputy invites helpers and viewers for the day."""

    invite: Id
    role: Role
    skills: list[Id] = []
    minor: MinorsMay | None = None
    may_countersign: StrictBool = False
    guest_for_the_day: StrictBool = False
    valid_minutes: int = 60


@command("crew.join", "/join", sent="now", who=EVERYBODY, refusals=("invite_used", "already_member"))
class Join(Command):
    """Join by an invite (its secret is judged before this, outside the rules)."""

    invite: Id


@command(
    "crew.change_member", "/members/{person}/change", sent="now", who=LEAD, needs_seen=True,
    refusals=("last_lead", "minor_cannot"),
)  # fmt: skip
class ChangeMember(Command):
    """Change somebody's role, skills, age group or right to countersign."""

    person: Id
    role: Role | None = None
    skills: list[Id] | None = None
    minor: MinorsMay | Literal["adult"] | None = None
    may_countersign: StrictBool | None = None


@command("crew.leave", "/members/{person}/leave", sent="now", who=LEAD, refusals=("last_lead", "under_load"))
class Leave(Command):
    """Take somebody off the crew; what they signed stays."""

    person: Id


@command("crew.name_deputy", "/members/{person}/deputy", sent="now", who=LEAD, refusals=("minor_cannot",))
class NameDeputy(Command):
    """Name a deputy until a given moment (for the day)."""

    person: Id
    until_ms: Moment


@command("crew.sign_in", "/sign-in", act="report", who=EVERYBODY)
class SignIn(Command):
    """Sign in for the day."""


@command("crew.sign_out", "/sign-out", act="report", who=EVERYBODY)
class SignOut(Command):
    """Sign out for the day; somebody still marked under the car is asked to say so first by the phone."""


@command("crew.visitor_in", "/visits", act="report", who=CREW)
class VisitorIn(Command):
    """Note a visitor or a child who is in."""

    what: Literal["visitor", "child"]
    name_text: Text | None = None
    with_person: Id | None = None


@command("crew.visitor_out", "/visits/{visit}/out", act="report", who=CREW)
class VisitorOut(Command):
    """A visitor or child has gone."""

    visit: Id


@command("crew.shut_out", "/devices/{device}/shut-out", sent="now", who=EVERYBODY, refusals=("role",))
class ShutOut(Command):
    """Shut a device out: one's own, or anybody's for a lead."""

    device: Id
    person: Id


@command(
    "crew.recover_lead",
    "/recover-lead",
    sent="now",
    who=EVERYBODY,
    refusals=("only_from_machine", "minor_cannot"),
)
class RecoverLead(Command):
    """A lead who lost their phone gets in from the machine's command line, as an entry (R29)."""

    person: Id


@command("crew.renew_pin", "/renew-pin", sent="now", who=EVERYBODY, refusals=("only_from_machine",))
class RenewPin(Command):
    """Somebody who forgot their PIN gets to set another one, from the machine's command line, as an entry (R29)."""

    person: Id
