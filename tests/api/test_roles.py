"""Role × command, every cell, from the registry; and what every command must say about itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from support.phones import PIN, PINS, Garage
from support.samples import body_of
from support.service import fresh_sqlite
from yokemate.handle.batch import NOT_BY_HAND
from yokemate.routes.commands import OWN_ROUTES, path_fields
from yokemate.rules.frame import COMMANDS, ROLES, CommandSpec, Role
from yokemate.rules.refusals import REFUSALS

BY_ROLE = {"lead": "ines", "builder": "bram", "helper": "kofi", "viewer": "vera"}
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
}
CELLS = [(spec, role) for spec in COMMANDS.values() if spec.kind not in OWN_ROUTES for role in ROLES]


@pytest.fixture(scope="module")
def crewed(tmp_path_factory: pytest.TempPathFactory, sqlite_template: Path) -> Garage:
    """One crew for every cell: a cell leaves others as they were or only further on."""
    from api.conftest import crew

    return crew(Garage(fresh_sqlite(sqlite_template, tmp_path_factory.mktemp("roles"))))


@pytest.mark.parametrize(("spec", "role"), CELLS, ids=[f"{spec.kind} by {role}" for spec, role in CELLS])
def test_a_role_may_send_what_the_registry_says(crewed: Garage, spec: CommandSpec, role: Role) -> None:
    """R30: a role that may not send a command is refused as such; one that may is never refused for its role; and
    whatever else refuses stands in the command's line of the registry."""
    name = BY_ROLE[role]
    fields = body_of(spec)
    path = spec.path.format(**{field: fields.pop(field) for field in path_fields(spec)})
    around = {"seen": 1, "pin": PINS.get(name, PIN)}

    answer = crewed.phones[name].ask("POST", f"/api/builds/{crewed.build}{path}", {**around, "body": fields})

    said = answer.json()
    code = said.get("code")
    if role not in spec.who:
        assert code == ("viewer" if role == "viewer" else "role"), said
        assert answer.status_code == 403
    else:
        assert code not in ("role", "viewer") or code in spec.refusals, said
        assert code is None or code in IMPLIED | set(spec.refusals), said
        assert answer.status_code < 500, said
    if spec.act == "report" and role in spec.who:
        assert code in {None, "unknown", "bad_input", *spec.refusals}, said


@pytest.mark.parametrize("spec", COMMANDS.values(), ids=COMMANDS.keys())
def test_every_refusal_a_command_lists_is_a_known_one(spec: CommandSpec) -> None:
    """R4: the list of refusals is closed."""
    assert set(spec.refusals) <= REFUSALS.keys()


def test_what_has_no_route_of_its_own_is_made_by_the_service() -> None:
    """R29: four kinds are never sent by hand; two more have routes that take or answer more than the command."""
    assert NOT_BY_HAND | {"crew.invite", "plan.load"} == OWN_ROUTES
    assert {"build.make", "crew.join", "crew.recover_lead", "evidence.keep"} == NOT_BY_HAND


@pytest.mark.parametrize("name", ["bram", "kofi", "vera"])
def test_only_a_lead_loads_a_plan(crewed: Garage, name: str) -> None:
    """R30: the plan is the lead's."""
    phone = crewed.phones[name]

    answer = phone.post(f"{phone.home}/plan", {"seen": 1, "text": _plan_text(), "options": {}})

    assert answer["code"] == ("viewer" if name == "vera" else "role")


@pytest.mark.parametrize("name", ["bram", "kofi", "vera"])
def test_only_a_lead_or_a_deputy_invites(crewed: Garage, name: str) -> None:
    """R30: inviting is the lead's, and for guests of the day a deputy's."""
    answer = crewed.phones[name].act("/invites", 403, invite="i", role="helper")

    assert answer["code"] == ("viewer" if name == "vera" else "role")


def _plan_text() -> str:
    from support.small_plan import SMALL
    from yokemate.planfile.write import write

    return write(SMALL)
