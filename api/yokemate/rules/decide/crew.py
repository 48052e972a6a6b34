"""Membership, roles, who is in today, visitors (R8, R29, R30)."""

from __future__ import annotations

from yokemate.rules.commands.crew import (
    ChangeBuild,
    ChangeMember,
    Invite,
    Join,
    Leave,
    MakeBuild,
    NameDeputy,
    RecoverLead,
    RenewPin,
    ShutOut,
    SignIn,
    SignOut,
    VisitorIn,
    VisitorOut,
    WriteEmergencyCard,
)  # fmt: skip
from yokemate.rules.decide.lift_call import free_places_of
from yokemate.rules.decide.task_changes import hand_back
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.hours import is_zone
from yokemate.rules.lift_crew import is_up
from yokemate.rules.presence import is_gone
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Lift, Member, Task, Under, Visit
from yokemate.rules.rows.crew import Invite as InviteRow

GUEST_DAY_MS = 16 * 3_600_000  # a guest for the day: long enough for any build day, over before the next
MACHINE = "machine"  # the device id of the command line of the machine that runs the service


@decides(MakeBuild)
def make_build(d: Deciding, cmd: MakeBuild) -> None:
    if d.find(Build, "build") is not None:
        raise Refused("build_exists")
    d.tell("build.made", name=cmd.name, units=cmd.units, time_zone=cmd.time_zone, demo=cmd.demo)


@decides(ChangeBuild)
def change_build(d: Deciding, cmd: ChangeBuild) -> None:
    build = d.get(Build, "build")
    zone = build.time_zone if cmd.time_zone is None else cmd.time_zone
    name = build.name if cmd.name is None else cmd.name.strip()
    if not is_zone(zone):
        raise Refused(
            "bad_input", field="time_zone", problem=f"'{zone}' is no time zone.", remedy="Write it like Europe/London."
        )  # fmt: skip
    if not name or not name.isprintable():
        raise Refused(
            "bad_input",
            field="name",
            problem="the name can't be read.",
            remedy="Type a name of one line.",
        )
    d.tell(
        "build.changed",
        name=name,
        units=cmd.units or build.units,
        time_zone=zone,
        learner_percent=cmd.learner_percent or build.learner_percent,
        comes_percent=cmd.comes_percent or build.comes_percent,
    )


@decides(WriteEmergencyCard)
def write_emergency_card(d: Deciding, cmd: WriteEmergencyCard) -> None:
    d.tell(
        "emergency.written",
        address=cmd.address_text,
        first_aid=cmd.first_aid_text,
        extinguishers=cmd.extinguishers_text,
    )


@decides(Invite)
def invite(d: Deciding, cmd: Invite) -> None:
    me = d.get(Member, d.who)
    if me.role != "lead":
        _need_plain_guest(d, cmd)
    if d.find(InviteRow, cmd.invite) is not None:
        raise Refused("invite_used", ask_person=first_lead(d))
    if not 1 <= cmd.valid_minutes <= 7 * 24 * 60:
        raise Refused(
            "bad_input", field="valid_minutes", problem="An invite holds for 1 minute to 7 days.",
            remedy="Give a number from 1 to 10080.",
        )  # fmt: skip
    _no_minor_in_charge(cmd.minor is not None, cmd.role, cmd.may_countersign)
    _need_known(d, cmd.skills)
    d.tell(
        "crew.invited", invite=cmd.invite, role=cmd.role, skills=sorted(set(cmd.skills)), minor=cmd.minor,
        may_countersign=cmd.may_countersign, guest_for_the_day=cmd.guest_for_the_day,
        until_ms=d.now_ms + cmd.valid_minutes * 60_000,
    )  # fmt: skip


@decides(Join)
def join(d: Deciding, cmd: Join) -> None:
    asked = d.get(InviteRow, cmd.invite)
    member = d.find(Member, d.who)
    if not is_gone(member, d.now_ms):
        raise Refused("already_member")
    if asked.used_by is not None or d.now_ms >= asked.until_ms:
        raise Refused("invite_used", ask_person=first_lead(d))
    d.tell(
        "crew.joined",
        invite=cmd.invite,
        guest_until_ms=d.now_ms + GUEST_DAY_MS if asked.guest_for_the_day else None,
    )


@decides(ChangeMember)
def change_member(d: Deciding, cmd: ChangeMember) -> None:
    member = d.get(Member, cmd.person)
    role = cmd.role or member.role
    minor = member.minor if cmd.minor is None else None if cmd.minor == "adult" else cmd.minor
    may_countersign = member.may_countersign if cmd.may_countersign is None else cmd.may_countersign
    if minor is not None and cmd.may_countersign is None:
        may_countersign = False
    _no_minor_in_charge(minor is not None, role, may_countersign)
    if role != "lead":
        _keep_a_lead(d, member)
    skills = member.skills if cmd.skills is None else sorted(set(cmd.skills))
    _need_known(d, [skill for skill in skills if skill not in member.skills])
    d.tell(
        "crew.member_changed",
        person=member.id,
        role=role,
        skills=skills,
        minor=minor,
        may_countersign=may_countersign,
    )
    if minor is not None or role == "viewer":
        free_places_of(d, member.id)


@decides(Leave)
def leave(d: Deciding, cmd: Leave) -> None:
    member = d.get(Member, cmd.person)
    _keep_a_lead(d, member)
    for lift in sorted(d.all(Lift), key=lambda one: one.id):
        if is_up(lift) and member.id in lift.places.values():
            raise Refused("under_load", person=member.id, lift=lift.plan.title)
    free_places_of(d, member.id)
    d.tell("crew.left", person=member.id)
    for task in list(d.all(Task)):
        if task.state == "taken" and task.holder == member.id:
            hand_back(d, task, "released", "other")
        elif any(mate.person == member.id for mate in task.mates):
            d.tell("task.mate_left", task=task.id, person=member.id)
    if d.find(Under, member.id) is not None:
        d.tell("hazard.came_out", person=member.id)


@decides(NameDeputy)
def name_deputy(d: Deciding, cmd: NameDeputy) -> None:
    member = d.get(Member, cmd.person)
    if member.left or member.role == "viewer":
        raise Refused(
            "bad_input",
            field="person",
            problem="Only somebody of the crew can be deputy.",
            remedy="Name a helper or builder.",
        )
    if member.minor is not None:
        raise Refused("minor_cannot")
    if not d.now_ms < cmd.until_ms <= d.now_ms + 24 * 3_600_000:
        raise Refused(
            "bad_input",
            field="until_ms",
            problem="A deputy is named for the day.",
            remedy="Give a moment within 24 hours.",
        )
    d.tell("crew.deputy_named", person=member.id, until_ms=cmd.until_ms)


@decides(SignIn)
def sign_in(d: Deciding, cmd: SignIn) -> None:
    d.tell("crew.signed_in")


@decides(SignOut)
def sign_out(d: Deciding, cmd: SignOut) -> None:
    """Signing out leaves what one had joined, so that a buddy task pauses (R28); a held task stays theirs."""
    d.tell("crew.signed_out")
    for task in list(d.all(Task)):
        if task.state == "taken" and any(mate.person == d.who for mate in task.mates):
            d.tell("task.mate_left", task=task.id, person=d.who)


@decides(VisitorIn)
def visitor_in(d: Deciding, cmd: VisitorIn) -> None:
    if cmd.with_person is not None:
        d.get(Member, cmd.with_person)
    d.tell(
        "crew.visitor_came",
        visit=d.new_id("visit"),
        what=cmd.what,
        payload=cmd.name_text,
        with_person=cmd.with_person,
    )


@decides(VisitorOut)
def visitor_out(d: Deciding, cmd: VisitorOut) -> None:
    d.get(Visit, cmd.visit)
    d.tell("crew.visitor_went", visit=cmd.visit)


@decides(ShutOut)
def shut_out(d: Deciding, cmd: ShutOut) -> None:
    me = d.get(Member, d.who)
    if cmd.person != d.who and me.role != "lead":
        raise Refused("role", role=me.role, ask_person=first_lead(d))
    d.get(Member, cmd.person)
    d.tell("crew.device_shut_out", device=cmd.device, person=cmd.person)


@decides(RecoverLead)
def recover_lead(d: Deciding, cmd: RecoverLead) -> None:
    if d.ctx.device != MACHINE:
        raise Refused("only_from_machine")
    member = d.get(Member, cmd.person)
    if member.minor is not None:
        raise Refused("minor_cannot")
    d.tell("crew.lead_recovered", person=member.id)


@decides(RenewPin)
def renew_pin(d: Deciding, cmd: RenewPin) -> None:
    if d.ctx.device != MACHINE:
        raise Refused("only_from_machine")
    d.tell("crew.pin_renewed", person=d.get(Member, cmd.person).id)


def _need_plain_guest(d: Deciding, cmd: Invite) -> None:
    """What a deputy may give: a day among the crew, and no rights that outweigh their own (R30)."""
    if not cmd.guest_for_the_day:
        raise Refused("deputy_guests_only", ask_person=first_lead(d))
    if cmd.role not in ("helper", "viewer") or cmd.skills or cmd.may_countersign:
        raise Refused("deputy_gives_no_rights", ask_person=first_lead(d))


def _need_known(d: Deciding, skills: list[str]) -> None:
    """A skill that the plan does not name lets nobody lead anything. Before a plan is loaded nobody can say which there
    are; one that a later plan dropped stays with who has it.
    """
    build = d.get(Build, "build")
    known = {skill.id for skill in build.skills}
    unknown = sorted(set(skills) - known)
    if build.plan_name is None or not unknown:
        return
    raise Refused(
        "bad_input",
        field="skills",
        problem=f"the plan knows no skill '{unknown[0]}'.",
        remedy=f"Give some of these: {', '.join(sorted(known))}."
        if known
        else "Leave them out: it names none.",
    )


def _no_minor_in_charge(minor: bool, role: str, may_countersign: bool) -> None:
    if minor and (may_countersign or role == "lead"):
        raise Refused("minor_cannot")


def _keep_a_lead(d: Deciding, member: Member) -> None:
    lasting = [m for m in d.all(Member) if m.role == "lead" and not m.left and m.guest_until_ms is None]
    others = [m for m in lasting if m.id != member.id]  # a guest is gone tomorrow
    if member.role == "lead" and not member.left and not others:
        raise Refused("last_lead")
