"""Role × command, every cell, from R30's own words; and what every command must say about itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from support.phones import PIN, PINS, Garage
from support.samples import body_of
from support.service import fresh_sqlite
from yokemate.handle.batch import NOT_BY_HAND
from yokemate.routes.commands import OWN_ROUTES, path_fields
from yokemate.rules.frame import COMMANDS, CommandSpec
from yokemate.rules.refusals import REFUSALS

BY_ROLE = {"lead": "ines", "builder": "bram", "helper": "kofi", "viewer": "vera", "deputy": "dina"}
IMPLIED = {
    "unknown",
    "bad_input",
    "not_a_member",
    "guest_over",
    "role",
    "viewer",
    "seen_needed",
    "pin_needed",
    "pin_wrong",
    "pin_outgrown",
}

# Who may send what, written down from R30 and the rules that it points to, not from the registry: a command that the
# registry opens to somebody else, and a new one that nobody thought about, turn up as a difference.
LEAD_ONLY = {
    "plan.load", "plan.choose",  # R30: plan, options
    "days.take", "gate.want", "part.expect",  # R30: plan: who does what when, by when it is wanted, when parts come
    "crew.change_member", "crew.leave", "crew.name_deputy",  # R30: roles, skills; people
    "lift.call", "lift.rearrange",  # R30: calling lifts; what bears them is of the plan
    "plan.release_task", "plan.clear_mark",  # R30: release out of order; R26: the lead clears the mark
    "note.withdraw",  # R30: withdrawing
    "build.change", "emergency.write",  # the build's own name, units and card
}  # fmt: skip
LEAD_OR_DEPUTY = {
    "crew.invite",  # R30: invites day guests
    "deviation.accept",  # R30: accepts deviations not their own
    "gate.propose",  # R25, R30: opens gates with a second
}  # fmt: skip
BUILDERS = {
    "wrench.enter", "wrench.check", "wrench.house_check", "wrench.retire",  # R30: enters and house-checks torque wrenches
    "lift.weigh",  # who leads skilled tasks puts it on the scales
}  # fmt: skip
EVERYBODY = {
    "lift.stop",  # R19, R30: a viewer changes nothing, except stop
    "crew.sign_in", "crew.sign_out",  # R28: who is in the garage, whatever their role
    "crew.shut_out",  # R29: a lost phone of one's own; of others the lead alone
    "build.make", "crew.join", "crew.recover_lead",  # before anybody has a role; made by the service (R29)
}  # fmt: skip


def may(kind: str, role: str) -> bool:
    if kind in LEAD_ONLY:
        return role == "lead"
    if kind in LEAD_OR_DEPUTY:
        return role in ("lead", "deputy")
    if kind in BUILDERS:
        return role in ("lead", "builder")
    return role != "viewer" or kind in EVERYBODY  # R30: the deputy is a helper of every day


CELLS = [(spec, role) for spec in COMMANDS.values() if spec.kind not in OWN_ROUTES for role in BY_ROLE]


@pytest.fixture(scope="module")
def crewed(tmp_path_factory: pytest.TempPathFactory, sqlite_template: Path) -> Garage:
    """One crew for every cell: a cell leaves others as they were or only further on. Dina, a helper, is today's deputy."""
    from api.conftest import crew

    garage = crew(Garage(fresh_sqlite(sqlite_template, tmp_path_factory.mktemp("roles"))))
    dina = garage.joined("dina", "helper")
    until_ms = garage.clock() + 12 * 3_600_000
    garage.phones["ines"].act(f"/members/{dina.person}/deputy", until_ms=until_ms)
    return garage


@pytest.mark.parametrize(("spec", "role"), CELLS, ids=[f"{spec.kind} by {role}" for spec, role in CELLS])
def test_a_role_may_send_what_the_rules_say(crewed: Garage, spec: CommandSpec, role: str) -> None:
    """R30: a role that may not send a command is refused as such; one that may is never refused for its role; and
    whatever else refuses stands in the command's line of the registry."""
    name = BY_ROLE[role]
    fields = body_of(spec)
    path = spec.path.format(**{field: fields.pop(field) for field in path_fields(spec)})
    around = {"seen": 1, "pin": PINS.get(name, PIN)}

    answer = crewed.phones[name].ask("POST", f"/api/builds/{crewed.build}{path}", {**around, "body": fields})

    said = answer.json()
    code = said.get("code")
    if not may(spec.kind, role):
        assert code == ("viewer" if role == "viewer" else "role"), said
        assert answer.status_code == 403
    else:
        assert code not in ("role", "viewer") or code in spec.refusals, said
        assert code is None or code in IMPLIED | set(spec.refusals), said
        assert answer.status_code < 500, said
    if spec.act == "report" and may(spec.kind, role):
        assert code in {None, "unknown", "bad_input", *spec.refusals}, said


def test_the_table_of_roles_names_commands_that_are_there() -> None:
    """Else a cell above would be judged by a line that nobody wrote for it."""
    assert {*LEAD_ONLY, *LEAD_OR_DEPUTY, *BUILDERS, *EVERYBODY} <= COMMANDS.keys()


def test_what_the_rules_name_as_now_is_sent_at_once_and_never_waits() -> None:
    """Roll call, lift, countersign with PIN, gate are *now*; STOP is a kind of its own, and what happened at the load waits."""
    now = {"lift.roll", "lift.clear_floor", "lift.lift", "lift.go_on", "torque.countersign", "task.sign_hold",
           "gate.propose", "two.second"}  # fmt: skip
    happened = {"torque.read", "torque.report_loosened", "lift.set_down", "wrench.dropped", "loose.report"}

    assert {COMMANDS[kind].sent for kind in now} == {"now"}
    assert [kind for kind, spec in COMMANDS.items() if spec.sent == "stop"] == ["lift.stop"]
    assert {(COMMANDS[kind].act, COMMANDS[kind].sent) for kind in happened} == {("report", "kept")}
    assert {kind for kind, spec in COMMANDS.items() if spec.pin} == {
        "torque.countersign",
        "task.sign_hold",
    }  # R5, R13


@pytest.mark.parametrize("spec", COMMANDS.values(), ids=COMMANDS.keys())
def test_every_refusal_a_command_lists_is_a_known_one(spec: CommandSpec) -> None:
    """R4: the list of refusals is closed."""
    assert set(spec.refusals) <= REFUSALS.keys()


def test_what_has_no_route_of_its_own_is_made_by_the_service() -> None:
    """R29: five kinds are never sent by hand; two more have routes that take or answer more than the command."""
    assert NOT_BY_HAND | {"crew.invite", "plan.load"} == OWN_ROUTES
    assert {"build.make", "crew.join", "crew.recover_lead", "crew.renew_pin", "evidence.keep"} == NOT_BY_HAND


@pytest.mark.parametrize("name", ["bram", "kofi", "vera", "dina"])
def test_only_a_lead_loads_a_plan(crewed: Garage, name: str) -> None:
    """R30: the plan is the lead's, and no deputy's."""
    phone = crewed.phones[name]

    answer = phone.post(f"{phone.home}/plan", {"seen": 1, "text": _plan_text(), "options": {}})

    assert answer["code"] == ("viewer" if name == "vera" else "role")


@pytest.mark.parametrize("name", ["bram", "kofi", "vera"])
def test_only_a_lead_or_a_deputy_invites(crewed: Garage, name: str) -> None:
    """R30: inviting is the lead's, and for guests of the day a deputy's."""
    answer = crewed.phones[name].act("/invites", 403, invite="i", role="helper")

    assert answer["code"] == ("viewer" if name == "vera" else "role")


@pytest.mark.parametrize("name", ["bram", "kofi", "vera", "dina"])
def test_only_a_lead_plans_the_days(crewed: Garage, name: str) -> None:
    """R30: the plan is the lead's: working out who does what when, finding a lift's time, and the hours of others that
    this stands on."""
    phone = crewed.phones[name]
    hours = f"{phone.home}/people/{crewed.phones['ines'].person}/hours"

    answers = [
        phone.post(f"{phone.home}/days/plan", {}),
        phone.get(f"{phone.home}/days/plan", 403),
        phone.get(f"{phone.home}/days/lifts/L1/times", 403),
        phone.get(hours, 403),
        phone.ask("PUT", hours, {"weekly": [], "exceptions": []}).json(),
    ]

    assert {answer["code"] for answer in answers} == {"viewer" if name == "vera" else "role"}


def _plan_text() -> str:
    from support.small_plan import SMALL
    from yokemate.planfile.write import write

    return write(SMALL)
